from datetime import timedelta
from decimal import Decimal
from uuid import uuid4

import pytest

from parts.answers.services import withdraw_answer
from parts.stock.services import StripLine, receive_stock, strip_donor, transfer_stock
from parts.support.selectors import call_list, coverage_of, standing_of
from parts.support.selectors.words import sentence
from tests.factories.parts import AnswerFactory, BinFactory, FitFactory, SupplierPriceFactory
from tests.factories.units import (
    MORNING,
    TODAY,
    KindComponentFactory,
    MachineModelFactory,
    PersonFactory,
    PlateRecordFactory,
    UnitFactory,
)
from units.catalogue.models import Component

pytestmark = pytest.mark.django_db


def ago(days):
    return TODAY - timedelta(days=days)


@pytest.fixture
def belt():
    """A belt that wears and a board that decides, on one model."""
    model = MachineModelFactory()
    wears = KindComponentFactory(
        kind=model.kind, component__slug="running-belt", component__name="running belt", wears=True
    )
    KindComponentFactory(
        kind=model.kind, component__slug="board", component__name="board", critical=True, position=2
    )
    return FitFactory(model=model, part__component=wears.component)


def words(model, on=TODAY, known_at=None):
    coverage = coverage_of([model], on, known_at)[model.pk].coverage
    return {one.place.slug: one.word for one in coverage.components}


def best(model, slug, on=TODAY):
    coverage = coverage_of([model], on)[model.pk].coverage
    return next(one.best for one in coverage.components if one.place.slug == slug)


def test_what_nobody_asked_about_is_unasked(belt):
    assert words(belt.model) == {"running-belt": "unasked", "board": "unasked"}
    coverage = coverage_of([belt.model], TODAY)[belt.model_id].coverage
    assert sentence(coverage) == "Nobody has asked yet whether parts can be had."


def test_one_answer_for_the_model_stands_in_for_every_component(belt):
    AnswerFactory(model=belt.model)
    assert words(belt.model) == {"running-belt": "had", "board": "had"}


def test_a_narrower_answer_takes_over_for_its_component(belt):
    AnswerFactory(model=belt.model)
    AnswerFactory(model=belt.model, component_id="board", status="ended")
    assert words(belt.model) == {"running-belt": "had", "board": "gone"}
    coverage = coverage_of([belt.model], TODAY)[belt.model_id].coverage
    assert sentence(coverage) == "Everything that wears can be had; the board cannot."


def test_a_suppliers_listing_is_a_way_though_the_maker_ended(belt):
    AnswerFactory(model=belt.model, status="ended", channel="notice")
    SupplierPriceFactory(part=belt.part)
    assert best(belt.model, "running-belt").route == "supplier"
    assert words(belt.model) == {"running-belt": "had", "board": "gone"}


def test_the_shelf_is_a_way_on_the_days_on_which_it_lay_there(belt):
    receive_stock(
        part=belt.part,
        bin=BinFactory(),
        quantity=Decimal(1),
        unit_cost=Decimal("41.50"),
        on=ago(10),
        document="D00001",
        by=PersonFactory(),
        at=MORNING,
    )
    assert (best(belt.model, "running-belt").route, best(belt.model, "running-belt").cost) == (
        "shelf",
        Decimal("41.50"),
    )
    assert best(belt.model, "running-belt", ago(20)).route == "maker"


def test_a_past_day_knows_what_was_given_by_then(belt):
    AnswerFactory(model=belt.model, given_on=ago(100))
    AnswerFactory(model=belt.model, given_on=ago(5), status="ended")
    assert words(belt.model)["board"] == "gone"
    assert words(belt.model, ago(50))["board"] == "had"
    assert words(belt.model, ago(150))["board"] == "unasked"


def test_by_the_day_of_entry_a_late_note_was_not_known(belt):
    AnswerFactory(model=belt.model, given_on=ago(100), recorded_at=MORNING)
    assert words(belt.model, ago(50))["board"] == "had"
    assert words(belt.model, ago(50), MORNING - timedelta(days=50))["board"] == "unasked"


def test_a_withdrawn_answer_counts_no_longer(belt):
    answer = AnswerFactory(model=belt.model)
    withdraw_answer(answer=answer, reason="other model", by=PersonFactory(), at=MORNING)
    assert words(belt.model)["board"] == "unasked"


def test_what_was_learnt_under_a_merged_name_counts(belt):
    AnswerFactory(model__merged_into=belt.model, model__kind=belt.model.kind)
    assert words(belt.model)["board"] == "had"


def test_each_word_names_the_answer_on_which_it_rests(belt):
    answer = AnswerFactory(model=belt.model)
    assert best(belt.model, "board").answer_id == answer.pk


def test_an_old_machine_is_less_likely_to_find_parts_than_a_new_one():
    old, new = MachineModelFactory(grade="commercial"), MachineModelFactory(grade="commercial")
    PlateRecordFactory(unit__model=old, made="2003")
    PlateRecordFactory(unit__model=new, made="2025-04")
    found = standing_of([old, new], TODAY)
    # The stated shares of odds.toml: common practice, no published source.
    assert (found[old.pk].holds, found[new.pk].holds) == (0.35, 0.95)


def test_the_call_list_weighs_what_hangs_on_a_model_by_how_unsure_it_is():
    known, stale, unasked = (MachineModelFactory() for _model in range(3))
    AnswerFactory(model=known, given_on=ago(1))
    AnswerFactory(model=stale, given_on=ago(1500))
    models = [known, stale, unasked]
    calls = call_list(models, dict.fromkeys([one.pk for one in models], 2.0), TODAY)
    assert [call.model for call in calls][-1] == known
    assert {call.model for call in calls[:2]} == {stale, unasked}


def test_nobody_is_asked_again_about_a_published_end():
    ended = AnswerFactory(status="ended", channel="notice").model
    assert call_list([ended], {ended.pk: 5.0}, TODAY) == []


def test_whoever_answered_today_is_not_called_again_today():
    answered, silent = AnswerFactory().model, AnswerFactory(status="no-answer").model
    weights = {answered.pk: 9.0, silent.pk: 1.0}
    today, tomorrow = (call_list([answered, silent], weights, day) for day in (TODAY, ago(-1)))
    assert [call.model for call in today] == [silent]
    assert {call.model for call in tomorrow} == {answered, silent}


def test_one_machines_coverage_needs_eight_queries_at_most(belt, django_assert_max_num_queries):
    AnswerFactory(model=belt.model)
    coverage_of([belt.model], TODAY)
    with django_assert_max_num_queries(8):
        coverage_of([belt.model], TODAY)


def test_standings_need_no_more_queries_for_more_models(django_assert_max_num_queries):
    models = [AnswerFactory().model for _ in range(10)]
    standing_of(models, TODAY)
    with django_assert_max_num_queries(4):
        standing_of(models, TODAY)


def test_a_donor_is_a_way_from_the_day_on_which_it_was_taken_apart(belt):
    unit = UnitFactory(model=belt.model)
    deck = Component.objects.get(pk="running-belt")
    strip_donor(
        unit=unit,
        lines=[StripLine(deck, "good", "leave", None, "", Decimal(1))],
        cost=Decimal("10.00"),
        on=ago(10),
        document="B00001",
        by=PersonFactory(),
        at=MORNING,
    )
    assert best(belt.model, "running-belt").party == unit.serial
    assert best(belt.model, "running-belt", ago(20)).route == "maker"


def test_a_carry_from_bin_to_bin_leaves_the_cost_of_a_part_as_it_was(belt):
    by, bins = PersonFactory(), [BinFactory(), BinFactory(name="B2")]
    receive_stock(
        part=belt.part, bin=bins[0], quantity=Decimal(3), unit_cost=Decimal("3.333333"),
        on=ago(9), document="D00001", by=by, at=MORNING,
    )  # fmt: skip
    transfer_stock(
        part=belt.part, bin=bins[0], to_bin=bins[1], quantity=Decimal(1), on=ago(8), by=by,
        at=MORNING, key=uuid4(),
    )  # fmt: skip
    assert best(belt.model, "running-belt").cost == Decimal("3.333333")


def test_what_was_written_down_later_was_not_on_the_shelf_by_the_day_of_entry(belt):
    receive_stock(
        part=belt.part, bin=BinFactory(), quantity=Decimal(1), unit_cost=Decimal(5),
        on=ago(60), document="D00001", by=PersonFactory(), at=MORNING,
    )  # fmt: skip
    known_at = MORNING - timedelta(days=30)
    coverage = coverage_of([belt.model], ago(40), known_at)[belt.model_id].coverage
    assert {one.best.route for one in coverage.components} == {"maker"}
    assert best(belt.model, "running-belt", ago(40)).route == "shelf"
