"""Tension of a V-ribbed belt from the sound of its free span."""

import tomllib
from functools import cache

from uncertainties import ufloat

from units.inspections.domain.measures.facts import EVENLY, REFERENCE

# What one catalogue's mass leaves open where no other contradicts it. Common practice, no
# published source.
USUAL_DOUBT = 0.05


@cache
def sections() -> dict[str, dict]:
    """The rows of the table of belts, by section (``PJ``)."""
    path = REFERENCE / "standard" / "belts.toml"
    return tomllib.loads(path.read_text(encoding="utf-8"))["sections"]


def mass(section: str, ribs: int):
    """Kilograms for a metre of the whole belt. The doubt of catalogues that disagree counts as the
    half-width of an even spread."""
    row = sections()[section]
    value = row["rib_mass_kg_per_m"] * ribs
    return ufloat(value, value * max(row["mass_doubt"], USUAL_DOUBT) / EVENLY)


def tension(mass_kg_per_m, span_m, hertz):
    """Newtons in a free span of this length that sounds at this frequency when plucked."""
    return 4 * mass_kg_per_m * span_m**2 * hertz**2
