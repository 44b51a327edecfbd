"""Layout families. A family is a design of its own; tuning and judging share none."""

from tests.platemaker.layouts import (
    cards,
    judged_bare,
    judged_busy,
    judged_late,
    judged_plain,
    metal,
)
from tests.platemaker.layouts.family import Family

# Drawn to judge by, but looked at since while the reader was mended: they judge no more.
SEEN = {"value_first", "thermal_label", "four_languages", "address_maker", "text_wall"}
JUDGED = (
    *judged_plain.FAMILIES,
    *judged_busy.FAMILIES,
    *judged_bare.FAMILIES,
    *judged_late.FAMILIES,
)
FAMILIES: dict[str, tuple[Family, ...]] = {
    "tune": (
        *cards.FAMILIES,
        *metal.FAMILIES,
        *(family for family in JUDGED if family.name in SEEN),
    ),
    "judge": tuple(family for family in JUDGED if family.name not in SEEN),
}
