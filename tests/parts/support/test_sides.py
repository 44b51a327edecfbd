"""Coverage where a component takes different parts, where a workshop wants the old one back, and
where a sister model's donor stands by."""

import json
from datetime import timedelta
from decimal import Decimal
from io import StringIO

import pytest
from django.core.management import call_command

from parts.buying.services import add_offer
from parts.stock.services import StripLine, strip_donor
from parts.support.selectors import coverage_of
from parts.support.selectors.words import core_words, rows, sentence
from tests.factories.parts import (
    AnswerFactory,
    FitFactory,
    SisterFactory,
    SupersessionFactory,
    SupplierPriceFactory,
)
from tests.factories.units import (
    MORNING,
    TODAY,
    ComponentFactory,
    KindComponentFactory,
    MachineModelFactory,
    PersonFactory,
    UnitFactory,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def model():
    """A model whose one component wears."""
    model = MachineModelFactory()
    KindComponentFactory(
        kind=model.kind, component__slug="pedals", component__name="pedal", wears=True
    )
    return model


@pytest.fixture
def pedals(model):
    """Its left and its right pedal, two parts."""
    return [
        FitFactory(model=model, part__component_id="pedals", position=position)
        for position in ("left", "right")
    ]


def covered(model):
    found = coverage_of([model], TODAY)[model.pk].coverage
    return next(one for one in found.components if one.place.slug == "pedals")


def told(model):
    return sentence(coverage_of([model], TODAY)[model.pk].coverage)


def exchanged(model, charge="60.00", days=30):
    return add_offer(
        supplier="Ostramill rebuilds", core_charge=Decimal(charge), core_days=days,
        by=PersonFactory(), at=MORNING, model=model,
        component=model.kind.components.get().component, cost=Decimal("140.00"), lead_days=5,
        given_on=TODAY, given_by="front desk", channel="phone", note="",
    )  # fmt: skip


def strip(unit, grade="good"):
    return strip_donor(
        unit=unit,
        lines=[StripLine(unit.model.kind.components.get().component, grade, "leave", None, "",
                         Decimal(1))],
        cost=Decimal("10.00"), on=TODAY, document="B00001", by=PersonFactory(), at=MORNING,
    )  # fmt: skip


def test_of_a_pair_the_missing_one_is_named(model, pedals):
    for fit in pedals:
        SupplierPriceFactory(part=fit.part)
    assert told(model) == "Everything that wears can be had."
    AnswerFactory(part=pedals[1].part, model=None, status="ended")
    assert covered(model).word == "had"  # a supplier has it still
    SupplierPriceFactory(part=pedals[1].part, status="ended")
    assert covered(model).word == "gone"
    assert told(model) == ("Nothing that wears can be counted on; the pedal (right) cannot.")


def test_each_side_of_a_pair_has_its_own_word_and_the_word_on_the_model_stands_in(model, pedals):
    AnswerFactory(model=model)
    AnswerFactory(part=pedals[0].part, model=None, status="ended")
    [row] = rows(coverage_of([model], TODAY)[model.pk].coverage)
    assert [(side.position, side.word) for side in row.sides] == [
        ("left", "cannot be had"),
        ("right", "can be had"),
    ]
    assert row.best.offer.number == pedals[0].part.number


def test_one_later_number_for_both_sides_serves_both(model, pedals):
    later = SupersessionFactory(part=pedals[0].part).replaced_by
    SupersessionFactory(part=pedals[1].part, replaced_by=later)
    SupplierPriceFactory(part=later)
    assert [need.word for need in covered(model).needs] == ["had", "had"]


def test_a_pair_takes_no_more_queries(model, pedals, django_assert_max_num_queries):
    AnswerFactory(model=model)
    exchanged(model)
    coverage_of([model], TODAY)
    with django_assert_max_num_queries(8):
        coverage_of([model], TODAY)


def test_the_charge_for_the_old_one_stands_apart_from_the_price(model):
    exchanged(model)
    best = covered(model).best
    assert (best.route, best.cost, covered(model).cost) == ("rebuild", 140, 140)
    assert (best.core.charge, best.core.days) == (Decimal("60.00"), 30)
    [row] = rows(coverage_of([model], TODAY)[model.pk].coverage)
    assert row.best.core == "and $60.00 until the old one is back, within 30 days"


@pytest.mark.parametrize(
    ("charge", "days", "words"),
    [
        ("60.00", None, "and $60.00 until the old one is back"),
        ("60.00", 1, "and $60.00 until the old one is back, within 1 day"),
        ("0.00", 14, "the old one goes back within 14 days"),
        ("0.00", None, "the old one goes back"),
    ],
)
def test_each_agreement_on_the_old_one_has_its_words(model, charge, days, words):
    exchanged(model, charge, days)
    assert core_words(covered(model).best.core) == words


def test_a_plain_offer_wants_nothing_back(model):
    AnswerFactory(model=model)
    assert covered(model).best.core is None
    assert core_words(None) == ""


def test_a_sisters_donor_is_a_way_after_our_own_models(model):
    sister = SisterFactory(model=model, other=MachineModelFactory(kind=model.kind)).other
    theirs = strip(UnitFactory(model=sister), grade="new").unit
    best = covered(model).best
    assert (best.route, best.via, best.party) == ("donor", "sister", theirs.serial)
    ours = strip(UnitFactory(model=model), grade="worn").unit
    ways = [(one.party, one.via) for one in covered(model).offers if one.route == "donor"]
    assert ways == [(ours.serial, "fits"), (theirs.serial, "sister")]


def test_a_sister_that_shares_another_component_gives_no_donor(model):
    other = MachineModelFactory(kind=model.kind)
    SisterFactory(model=model, other=other, component=ComponentFactory(slug="board"))
    strip(UnitFactory(model=other))
    assert covered(model).best.route == "maker"


def test_a_sister_known_only_later_gives_no_donor_by_the_day_of_entry(model):
    sister = SisterFactory(model=model, other=MachineModelFactory(kind=model.kind))
    strip(UnitFactory(model=sister.other))
    known_at = MORNING - timedelta(minutes=1)
    [one] = coverage_of([model], TODAY, known_at)[model.pk].coverage.components
    assert one.best.route == "maker"


def asked(model, **options):
    out = StringIO()
    call_command("support", model.number, on=TODAY.isoformat(), stdout=out, **options)
    return out.getvalue()


def test_the_command_tells_charge_and_sides(model, pedals):
    exchanged(model)
    SupplierPriceFactory(part=pedals[0].part)
    [one] = json.loads(asked(model, as_json=True))["components"]
    assert (one["status"], one["lacking"]) == ("had", [])
    assert [(need["position"], need["status"]) for need in one["needs"]] == [
        ("left", "had"),
        ("right", "had"),
    ]
    assert one["needs"][1]["cost"] == "140.000000"
    text = asked(model)
    assert "and $60.00 until the old one is back, within 30 days" in text
    assert "    right" in text
