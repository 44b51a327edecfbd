from datetime import timedelta
from decimal import Decimal

import pytest

from shop.floor.models import Stay
from shop.resale.domain.readiness import KNOWN
from shop.resale.selectors import for_sale, one_for_sale, our_stays, readiness_of
from shop.resale.selectors.words import WORDS
from tests.factories.resale import (
    AskingPriceFactory,
    GradingFactory,
    OwnStayFactory,
    attach,
    finished_inspection,
    ready_stay,
)
from tests.factories.shop import StayFactory, WorkOrderFactory
from tests.factories.units import (
    MORNING,
    TODAY,
    ComponentFactory,
    PersonFactory,
    ProtocolStepFactory,
    RecallCheckFactory,
)
from tests.units.recalls.ground import load, record
from units.inspections.models import Finding, StepResult
from units.recalls.models import Recall
from units.recalls.selectors import match_of
from units.recalls.services import decide_match, record_remedy

pytestmark = pytest.mark.django_db


def keys(stay, on=TODAY):
    return [unmet.key for unmet in readiness_of([stay], on)[stay.pk]]


def add_finding(inspection, outcome="fail", passes=False, holds=False):
    step = ProtocolStepFactory(
        protocol=inspection.protocol, component=ComponentFactory(slug="deck")
    )
    result = StepResult.objects.create(
        inspection=inspection,
        step=step,
        outcome=outcome,
        condition="grooved",
        recorded_at=MORNING,
        recorded_by=PersonFactory(),
    )
    return Finding.objects.create(
        unit=inspection.unit,
        result=result,
        component=step.component,
        condition="grooved",
        passes=passes,
        holds=holds,
        found_at=inspection.finished_at,
    )


def test_a_machine_with_everything_in_order_is_ready():
    assert keys(ready_stay()) == []


def test_of_a_machine_just_bought_everything_is_missing():
    assert set(keys(OwnStayFactory())) == {
        "plate",
        "recall-unread",
        "inspection",
        "test",
        "support",
        "supply",
        "grading",
        "photo",
        "price",
        "terms",
    }


def test_every_condition_has_a_sentence_and_a_place_to_mend_it():
    assert set(WORDS) == set(KNOWN)


def test_the_newest_recall_check_counts():
    stay = ready_stay()
    RecallCheckFactory(unit=stay.unit, outcome="fits", checked_on=TODAY)
    assert keys(stay) == ["recall-fits"]


def recalled_stay():
    """Ready but for a notice that names its model."""
    stay = ready_stay()
    load(record(text=f"Model {stay.unit.model.number}."))
    return stay


def decide(stay, outcome):
    recall, by = Recall.objects.get(), PersonFactory()
    said = {"recall": recall, "unit": stay.unit, "by": by, "at": MORNING}
    basis = match_of(recall, stay.unit).basis
    if outcome == "remedied":
        decide(stay, "confirmed")
        record_remedy(reason="board changed", advice="counsel", basis=basis, **said)
    else:
        decide_match(outcome=outcome, reason="the plate", basis=basis, **said)


def test_a_match_that_nobody_decided_on_keeps_it_back_and_leads_to_its_recalls():
    stay = recalled_stay()
    (unmet,) = readiness_of([stay], TODAY)[stay.pk]
    assert unmet.sentence == (
        "Recall 26645 may mean it, and nobody has decided yet. Until then it is not sold."
    )
    assert (unmet.url_name, unmet.url_args) == ("machine-recalls", (stay.unit_id,))


@pytest.mark.parametrize(
    ("outcome", "left"),
    [("confirmed", ["recall-confirmed"]), ("dismissed", []), ("remedied", [])],
)
def test_a_recall_keeps_it_back_until_it_is_dismissed_or_remedied(outcome, left):
    stay = recalled_stay()
    decide(stay, outcome)
    assert keys(stay) == left


def test_the_newest_grading_and_price_count():
    stay = ready_stay()
    GradingFactory(stay=stay, cleaned=False, graded_at=MORNING + timedelta(days=1))
    AskingPriceFactory(stay=stay, price=Decimal("1100.00"), set_at=MORNING + timedelta(days=1))
    one = one_for_sale(stay.pk, TODAY)
    assert [unmet.key for unmet in one.unmet] == ["cleaned"]
    assert one.facts.price == Decimal("1100.00")


def test_a_finding_that_stands_names_its_component():
    stay = ready_stay()
    add_finding(stay.unit.inspections.get(protocol__occasion="arrival"))
    attach(stay)
    (unmet,) = readiness_of([stay], TODAY)[stay.pk]
    assert (unmet.key, unmet.sentence) == ("findings", "Not put right yet: deck.")


def test_a_final_test_with_a_step_that_failed_is_not_passed():
    stay = ready_stay()
    add_finding(stay.unit.inspections.get(protocol__occasion="final"))
    assert keys(stay) == ["findings", "test-failed", "terms-old"]


def test_a_final_test_bounded_by_a_jobs_work_is_not_the_whole_one_that_a_sale_needs():
    """Common practice, no published source: full for resale."""
    stay = OwnStayFactory()
    finished_inspection(stay.unit, "final", asked=["safety-stop"])
    assert "test" in keys(stay)
    finished_inspection(stay.unit, "final")
    assert "test" not in keys(stay)


def test_an_open_job_keeps_it_back_and_leads_to_that_job():
    stay = ready_stay()
    WorkOrderFactory(number="J00077", stay=stay, purpose="own", owner=None, state="in-work")
    (unmet,) = readiness_of([stay], TODAY)[stay.pk]
    assert (unmet.sentence, unmet.url_name, unmet.url_args) == (
        "Job J00077 on it is still open.",
        "job",
        ("J00077",),
    )


def test_a_closed_own_job_keeps_nothing_back():
    stay = ready_stay()
    WorkOrderFactory(stay=stay, purpose="own", owner=None, state="closed")
    assert keys(stay) == []


def test_time_written_after_the_final_test_asks_for_another_test():
    stay = ready_stay()
    job = WorkOrderFactory(stay=stay, purpose="own", owner=None, state="closed")
    job.time_entries.create(
        key="7d444840-9dc0-11d1-b245-5ffdce74fad2",
        technician=PersonFactory(),
        worked_on=TODAY,
        minutes=10,
        cost=Decimal("5.00"),
        recorded_at=MORNING + timedelta(hours=4),
    )
    assert keys(stay) == ["test-old"]


def test_what_was_inspected_before_it_came_does_not_count():
    stay = ready_stay()
    Stay.objects.filter(pk=stay.pk).update(came_on=TODAY + timedelta(days=1))
    assert keys(stay, TODAY + timedelta(days=1)) == ["inspection", "test", "photo"]


def test_a_newer_arrival_inspection_does_not_hide_the_final_test():
    stay = ready_stay()
    finished_inspection(stay.unit, "arrival", MORNING + timedelta(hours=5))
    assert keys(stay) == []


def test_looking_at_many_gives_what_looking_at_each_gives():
    stays = [ready_stay(), OwnStayFactory(), ready_stay(TODAY - timedelta(days=200))]
    together = readiness_of(stays, TODAY)
    assert together == {stay.pk: readiness_of([stay], TODAY)[stay.pk] for stay in stays}


def test_the_number_of_queries_does_not_grow_with_the_machines(django_assert_max_num_queries):
    for _ in range(3):
        ready_stay()
        OwnStayFactory()
    with django_assert_max_num_queries(8):
        assert len(for_sale(our_stays(), TODAY)) == 6


def test_the_ready_ones_stand_first_and_customers_machines_are_left_out():
    bare, ready = OwnStayFactory(), ready_stay()
    StayFactory()
    assert [one.stay for one in for_sale(our_stays(), TODAY)] == [ready, bare]


@pytest.mark.parametrize(("state", "count"), [("ready", 1), ("not-ready", 2), ("", 3)])
def test_a_state_chooses_the_ready_or_the_others(state, count):
    ready_stay()
    OwnStayFactory()
    OwnStayFactory()
    assert len(for_sale(our_stays(), TODAY, state)) == count


def test_a_customers_machine_is_not_for_sale():
    with pytest.raises(Stay.DoesNotExist):
        one_for_sale(StayFactory().pk, TODAY)
