"""Inspections that ask for less than their protocol, and those that something ends."""

from datetime import timedelta

import pytest

from tests.factories.units import MORNING, PersonFactory, UnitFactory
from units.catalogue.models import Kind
from units.inspections.domain.scope import HOME, Work
from units.inspections.models import ProtocolStep, StepResult
from units.inspections.selectors import inspection_sheet, walk
from units.inspections.services import (
    MissingStepsError,
    finish_inspection,
    open_inspection,
    record_result,
)

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("reference")]
BELT = Work(["running-belt", "deck"])


@pytest.fixture
def person():
    return PersonFactory()


@pytest.fixture
def treadmill():
    return UnitFactory(model__kind=Kind.objects.get(pk="treadmill"))


@pytest.fixture
def opened(treadmill, person):
    def act(occasion="final", **words):
        return open_inspection(
            unit=treadmill, occasion=occasion, document="J00001", by=person, at=MORNING, **words
        )

    return act


def answer_soundly(inspection, steps, person):
    for step in steps:
        sound = next((row["condition"] for row in step.conditions if row["passes"]), "")
        words = {"condition": sound} if sound else {"value": 1}
        record_result(inspection=inspection, step=step, by=person, at=MORNING, **words)


def asked(inspection):
    return [step.key for step in ProtocolStep.objects.asked_in(inspection)]


def test_a_final_test_asks_for_what_the_work_asks_for(opened):
    inspection = opened(work=BELT)
    assert {"safety-stop", "repaired", "tracking", "current"} <= set(asked(inspection))
    assert not {"incline", "keys", "outlet"} & set(asked(inspection))
    assert inspection.run_in == 20


def test_an_inspection_without_bounds_asks_for_all_of_its_protocol(opened):
    inspection = opened()
    assert inspection.asked is None
    assert len(asked(inspection)) == inspection.protocol.steps.count()


def test_a_bounded_test_is_finished_with_its_own_steps(opened, person):
    inspection = opened(work=BELT)
    steps = list(ProtocolStep.objects.asked_in(inspection))
    answer_soundly(inspection, steps[:-1], person)
    with pytest.raises(MissingStepsError, match="Run-in"):
        finish_inspection(inspection=inspection, by=person, at=MORNING)
    answer_soundly(inspection, steps[-1:], person)
    assert finish_inspection(inspection=inspection, by=person, at=MORNING).is_finished


def test_more_work_widens_a_test_that_is_open_and_never_narrows_it(opened):
    before = asked(opened(work=Work(["keypad-membrane"], HOME)))
    after = asked(opened(work=Work(["lift-motor"])))
    assert set(before) < set(after)
    assert {"keys", "incline", "calibration", "outlet"} <= set(after)
    assert opened(work=Work(full=True)).asked is None
    assert opened(work=BELT).asked is None


def test_a_step_page_leads_past_what_is_not_asked(opened):
    inspection = opened(work=BELT)
    first, second = list(ProtocolStep.objects.asked_in(inspection))[:2]
    page = walk(inspection).at(first.position)
    assert (page.before, page.after, page.place) == (None, second.position, 1)
    assert len(walk(inspection).pages) == len(asked(inspection))
    unasked = inspection.protocol.steps.get(key="incline")
    assert walk(inspection).at(unasked.position) is None


def test_the_run_in_says_how_long_it_is_this_time(opened):
    inspection = opened(work=Work(["keypad-membrane"]))
    noise = inspection.protocol.steps.get(key="noise")
    stop = inspection.protocol.steps.get(key="safety-stop")
    assert walk(inspection).at(noise.position).run_in == 5
    assert walk(inspection).at(stop.position).run_in is None


def test_the_sheet_shows_what_is_asked_and_what_was_answered_besides(opened, person):
    inspection = opened(work=BELT)
    extra = inspection.protocol.steps.get(key="incline")
    answer_soundly(inspection, [extra], person)
    shown = [line.step.key for line in inspection_sheet(inspection).lines]
    assert set(shown) == {*asked(inspection), "incline"}


# --- Something ends it


@pytest.fixture
def walked_away(opened, person):
    """A visit before buying that found the machine taken apart."""
    inspection = opened("purchase")
    whole = inspection.protocol.steps.get(key="whole")
    record_result(inspection=inspection, step=whole, condition="taken-apart", by=person, at=MORNING)
    return inspection


def test_taken_apart_ends_a_visit_before_buying_and_says_why(walked_away):
    sheet = inspection_sheet(walked_away)
    assert sheet.ending["ends"] == "walk-away"
    assert "not bought as working" in sheet.ending["why"]
    assert sheet.next_step is None


def test_what_was_not_looked_at_any_more_is_a_finding_with_its_reason_never_a_blank(
    walked_away, person
):
    at = MORNING + timedelta(minutes=5)
    finish_inspection(inspection=walked_away, by=person, at=at)
    results = walked_away.results.all()
    assert results.count() == walked_away.protocol.steps.count()
    gaps = results.filter(outcome=StepResult.Outcome.NOT_POSSIBLE)
    assert gaps.count() == results.count() - 1
    assert {gap.reason for gap in gaps} == {"The visit ended: taken apart, or cannot be run"}
    assert walked_away.unit.findings.count() == results.count()


def test_taken_apart_on_arrival_ends_nothing(opened, person):
    inspection = opened("arrival")
    whole = inspection.protocol.steps.get(key="whole")
    record_result(inspection=inspection, step=whole, condition="taken-apart", by=person, at=MORNING)
    assert inspection_sheet(inspection).ending is None
    with pytest.raises(MissingStepsError):
        finish_inspection(inspection=inspection, by=person, at=MORNING)


def test_what_a_club_machine_has_unseen_is_expected_on_its_sheet(opened):
    acts = {
        component.pk: meaning.verdict.act
        for meaning in inspection_sheet(opened("club")).meanings
        for component in meaning.components
    }
    assert acts == dict.fromkeys(["running-belt", "deck", "drive-belt", "motor-brushes"], "expect")


def test_on_arrival_nothing_is_expected_before_a_look(opened):
    assert inspection_sheet(opened("arrival")).meanings == []


def test_what_was_not_possible_says_what_follows_from_it(opened, person):
    inspection = opened("club")
    step = inspection.protocol.steps.get(key="keys")
    words = {"outcome": "not-possible", "reason": "no power here", "by": person, "at": MORNING}
    record_result(inspection=inspection, step=step, **words)
    line = next(one for one in inspection_sheet(inspection).lines if one.step == step)
    assert "neither bought nor called working" in line.consequence
    record_result(inspection=inspection, step=step, **words | {"reason": "it was raining"})
    line = next(one for one in inspection_sheet(inspection).lines if one.step == step)
    assert line.consequence == ""
