"""Layout families. A family is a design of its own; tuning and judging share none."""

from tests.platemaker.layouts import cards, judged_bare, judged_busy, judged_plain, metal
from tests.platemaker.layouts.family import Family

FAMILIES: dict[str, tuple[Family, ...]] = {
    "tune": (*cards.FAMILIES, *metal.FAMILIES),
    "judge": (*judged_plain.FAMILIES, *judged_busy.FAMILIES, *judged_bare.FAMILIES),
}
