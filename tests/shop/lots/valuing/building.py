"""A small lot to value: rows made straight, its seller the invented club."""

import uuid
from decimal import Decimal

from shop.lots.domain.prices import Terms
from shop.lots.models import Lot, LotLine, LotMachine
from shop.lots.services.valuing import Wish, reckon_valuation, want_valuation
from tests.factories.shop import CustomerFactory
from tests.factories.units import (
    MORNING,
    TODAY,
    ComponentFactory,
    KindComponentFactory,
    MachineModelFactory,
    PersonFactory,
)

TERMS = Terms(0.35, 0.8)
PLACES = [("running-belt", True, True), ("motor-control-board", False, True), ("fan", False, False)]


def treadmill(number="T-900"):
    """A commercial treadmill with a belt, a board and a fan."""
    for position, (slug, wears, critical) in enumerate(PLACES):
        KindComponentFactory(
            component=ComponentFactory(slug=slug),
            position=position,
            wears=wears,
            critical=critical,
        )
    return MachineModelFactory(number=number, grade="commercial")


def lot(*lines, asked=None, seller="Millrace Athletic", **more):
    """A lot with such lines, each a dict of a line's fields."""
    made = Lot.objects.create(
        seller=CustomerFactory(name=seller, sort="company"),
        title="the whole floor",
        asked=asked,
        offered_on=TODAY,
        recorded_at=MORNING,
        recorded_by=PersonFactory(),
        **more,
    )
    for position, fields in enumerate(lines, start=1):
        line(made, position, **fields)
    return made


def line(made, position, model=None, **fields):
    fields = {"text": "a line", "state": "confirmed", "sure": True, **fields}
    if model:
        fields |= {"model": model, "kind": model.kind, "text": str(model)}
    return LotLine.objects.create(
        lot=made, position=position, settled_at=MORNING, settled_by=PersonFactory(), **fields
    )


def walked(on_line, place, ran="runs", **fields):
    """A machine that somebody stood before."""
    said = {"why_not": "no power"} if ran in ("dead", "apart") else {}
    return LotMachine.objects.create(
        line=on_line,
        place=place,
        ran=ran,
        looked_at=MORNING,
        looked_by=PersonFactory(),
        **{**said, **fields},
    )


def wanted(made, asked=None, by=None, at=MORNING, **more):
    wish = Wish(asked=asked, terms=TERMS, draws=1_000, **more)
    return want_valuation(
        lot=made, wish=wish, key=uuid.uuid4(), by=by or PersonFactory(), at=at, on=TODAY
    )


def valued(made, asked=None, **more):
    """A valuation of the lot, reckoned."""
    return reckon_valuation(pk=wanted(made, asked, **more).pk, at=MORNING)


def goods(quantity="900"):
    return {
        "sort": "goods",
        "goods": "plates",
        "measure": "lb",
        "quantity": Decimal(quantity),
        "text": "rubber plates",
    }
