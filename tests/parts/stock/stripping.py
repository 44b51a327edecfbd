"""A machine to take apart, for the tests of donors."""

from decimal import Decimal

from parts.stock.services import StripLine, strip_donor
from tests.factories.parts import PartFactory
from tests.factories.units import (
    MORNING,
    TODAY,
    KindComponentFactory,
    MachineModelFactory,
    PersonFactory,
    UnitFactory,
)

COMPONENTS = ["drive-motor", "deck", "running-belt", "lift-motor"]


def machine(**unit):
    """A treadmill of a kind that has four components."""
    unit.setdefault("model", MachineModelFactory())
    for position, slug in enumerate(COMPONENTS):
        KindComponentFactory(kind=unit["model"].kind, component__slug=slug, position=position)
    return UnitFactory(**unit)


def component(slug):
    return KindComponentFactory(component__slug=slug).component


def take(slug="drive-motor", part=None, bin_name="A1", value="0", grade="good"):
    part = part or PartFactory(component=component(slug))
    return StripLine(component(slug), grade, "take", part, bin_name, Decimal(value))


def leave(slug="deck", value="0", grade="good", part=None):
    return StripLine(component(slug), grade, "leave", part, "", Decimal(value))


def scrap(slug="running-belt"):
    return StripLine(component(slug), "spent", "scrap")


def strip(*lines, unit=None, cost="90.00", on=TODAY, part=None, bin_name="A1", key=None):
    """A stripped machine; without lines, one drive motor comes off it as ``part``."""
    return strip_donor(
        unit=unit or machine(),
        lines=lines or [take(part=part, bin_name=bin_name)],
        cost=Decimal(cost),
        on=on,
        document="B00001",
        by=PersonFactory(),
        at=MORNING,
        key=key,
    )
