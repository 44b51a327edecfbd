from collections import Counter
from datetime import timedelta
from decimal import Decimal

import pytest

from parts.answers.domain.odds import stated as stated_answers
from shop.lots.domain.listed import MachineLine, Wanted
from shop.lots.selectors.inputs import known_of
from shop.lots.services.valuing import Frame, compose_lot
from shop.work.models import FlatRate
from tests.factories.parts import AnswerFactory, FitFactory, PartFactory, SupplierPriceFactory
from tests.factories.resale import AskingPriceFactory
from tests.factories.shop import StayFactory
from tests.factories.units import (
    MORNING,
    TODAY,
    ComponentFactory,
    KindComponentFactory,
    MachineModelFactory,
    PersonFactory,
    UnitFactory,
)
from units.inspections.models import ComponentOutcome

pytestmark = pytest.mark.django_db


@pytest.fixture
def treadmill():
    """A commercial treadmill with a belt, a board and a fan."""
    for position, (slug, wears, critical) in enumerate(
        [("running-belt", True, True), ("motor-control-board", False, True), ("fan", False, False)]
    ):
        component = ComponentFactory(slug=slug)
        KindComponentFactory(component=component, position=position, wears=wears, critical=critical)
    return MachineModelFactory(number="T-900", grade="commercial", mass=Decimal("141.5"))


def wanted(model, **more):
    return Wanted(model.pk, model.kind_id, **more)


def known(model, **more):
    one = wanted(model, **more)
    return known_of(Counter({one: 2}), TODAY)[one]


def place(found, slug):
    return next(one for one in found.facts.places if one.slug == slug)


def sold(model, price, days=30):
    """One that was priced ``days`` before it was sold for so much."""
    stay = StayFactory(
        unit=UnitFactory(model=model),
        owner=None,
        came="purchase",
        came_on=TODAY - timedelta(days=90),
        left="sold",
        left_on=TODAY - timedelta(days=1),
        left_by=PersonFactory(),
        fetched=Decimal(price),
    )
    AskingPriceFactory(stay=stay, set_at=MORNING - timedelta(days=days))
    return stay


def test_before_anything_is_known_the_stated_figures_count(treadmill):
    found = known(treadmill)
    belt = place(found, "running-belt")
    assert found.facts.key == "Corvane T-900"
    assert found.facts.mass == 141.5
    assert (found.origin.sales, found.origin.looks, found.origin.told) == (0, 0, 0)
    assert belt.odds.alpha / (belt.odds.alpha + belt.odds.beta) == pytest.approx(0.70)  # of a club
    assert belt.minutes == 45.0
    assert found.facts.met == 0.0


def test_a_flat_rate_of_the_kind_comes_before_the_general_one(treadmill):
    belt = ComponentFactory(slug="running-belt")
    FlatRate.objects.create(act="replace", component=belt, minutes=60)
    assert place(known(treadmill), "running-belt").minutes == 60.0
    FlatRate.objects.create(act="replace", component=belt, kind=treadmill.kind, minutes=75)
    assert place(known(treadmill), "running-belt").minutes == 75.0


def test_sales_of_like_machines_make_the_price_and_are_counted(treadmill):
    before = known(treadmill).facts.market.price.mean
    for _ in range(3):
        sold(treadmill, 3000)
    found = known(treadmill)
    assert before < found.facts.market.price.mean < 3000 * 1.1
    assert (found.origin.sales, found.origin.own_sales) == (3, 3)
    assert found.facts.met == 1.5  # three in two years


def test_a_word_of_the_maker_raises_the_chance_of_all_its_parts(treadmill):
    AnswerFactory(model=treadmill, status="supported", given_on=TODAY)
    (offer,) = place(known(treadmill), "motor-control-board").needs[0].offers
    assert (offer.status, offer.breadth) == ("supported", 0)
    assert offer.holds > 0.95
    assert known(treadmill).origin.told == 3


def test_a_suppliers_price_is_what_a_part_costs(treadmill):
    part = PartFactory(component=ComponentFactory(slug="running-belt"))
    FitFactory(part=part, model=treadmill)
    SupplierPriceFactory(part=part, cost=Decimal("120"))
    composed = compose_lot([MachineLine("1", "T-900", wanted(treadmill))], Frame(), TODAY)
    (machine,) = composed.lot.machines
    belt = next(one for one in machine.model.components if one.slug == "running-belt")
    costs = {route.key: route.cost for route in belt.routes}
    assert costs[f"supplier/Corvane parts desk/part {part.pk}"] == 120.0


def test_looks_of_our_own_move_the_odds_and_are_told(treadmill):
    yesterday = MORNING - timedelta(days=1)
    for number in range(12):
        ComponentOutcome.objects.create(
            unit=UnitFactory(model=treadmill),
            component=ComponentFactory(slug="running-belt"),
            fate="replaced",
            population="club",
            known="finding",
            state="run",
            source=f"inspection {number}",
            looked_on=yesterday.date(),
            document=f"I{number}",
            recorded_at=yesterday,
            recorded_by=PersonFactory(),
        )
    found = known(treadmill)
    belt = place(found, "running-belt")
    assert belt.odds.alpha / (belt.odds.alpha + belt.odds.beta) > 0.8
    assert found.origin.looks == 12


def test_a_machine_of_an_unknown_model_is_one_of_its_kind(treadmill):
    one = Wanted(None, "treadmill")
    found = known_of(Counter({one: 1}), TODAY)[one]
    assert found.facts.key == "treadmill"
    assert found.facts.had == stated_answers()["unasked"]["unknown_grade"]


def test_of_a_kind_without_a_price_nothing_is_known():
    assert not known_of(Counter({Wanted(None, "crosswalk"): 1}), TODAY)


def test_lines_of_an_unknown_kind_are_left_out_and_named(treadmill):
    lines = [
        MachineLine("1", "T-900", wanted(treadmill), 2),
        MachineLine("2", "a thing", Wanted(None, "crosswalk")),
    ]
    composed = compose_lot(lines, Frame(), TODAY)
    assert len(composed.lot.machines) == 2
    assert [line.name for line in composed.left_out] == ["a thing"]
    assert composed.priors_only


def test_a_typed_price_and_assumption_come_before_our_own(treadmill):
    typed = {"price:Corvane T-900": 777.0, "storage": 20.0, "lot_weight": 0.1}
    line = MachineLine("1", "T-900", wanted(treadmill))
    lot = compose_lot([line], Frame(typed=typed), TODAY).lot
    assert lot.machines[0].model.market.price.mean == 777.0
    assert lot.assumptions.storage == 20.0
    assert lot.assumptions.dependence[0][0] == 0.1


def test_more_models_need_no_more_queries(treadmill, django_assert_max_num_queries):
    models = [MachineModelFactory(number=f"A{at}", grade="commercial") for at in range(12)]
    lot = Counter({wanted(model): 1 for model in models})
    known_of(lot, TODAY)
    with django_assert_max_num_queries(24):
        assert len(known_of(lot, TODAY)) == 12
