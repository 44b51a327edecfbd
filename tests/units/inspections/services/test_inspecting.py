from datetime import timedelta
from decimal import Decimal

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import IntegrityError, transaction
from django.db.models import ProtectedError

from tests.factories.units import (
    MORNING,
    ComponentFactory,
    InspectionFactory,
    MeasureStepFactory,
    PersonFactory,
    ProtocolFactory,
    ProtocolStepFactory,
    StoredFileFactory,
    UnitFactory,
)
from units.files.models import StoredFile
from units.files.services import FileRefusedError
from units.inspections.models import Finding, Inspection, StepResult
from units.inspections.services import (
    InspectionError,
    MissingStepsError,
    finish_inspection,
    open_inspection,
    record_result,
    record_step,
)

pytestmark = pytest.mark.django_db
LATER = MORNING + timedelta(hours=1)


@pytest.fixture
def person():
    return PersonFactory()


@pytest.fixture
def inspection():
    return InspectionFactory()


@pytest.fixture
def belt(inspection):
    return ProtocolStepFactory(protocol=inspection.protocol, key="belt", title="Belt")


@pytest.fixture
def current(inspection):
    return MeasureStepFactory(protocol=inspection.protocol, key="current", title="Current")


@pytest.fixture
def record(inspection, person):
    def act(step, **answer):
        words = {"inspection": inspection, "by": person, "at": MORNING} | answer
        return record_result(step=step, **words)

    return act


def open_for(unit, person, document="J00001", occasion="arrival"):
    return open_inspection(unit=unit, occasion=occasion, document=document, by=person, at=MORNING)


# --- Opening


def test_an_inspection_opens_by_the_newest_version_for_the_kind(person):
    unit = UnitFactory()
    ProtocolFactory(kind=unit.model.kind, version=1)
    newest = ProtocolFactory(kind=unit.model.kind, version=2)
    assert open_for(unit, person).protocol == newest


def test_opening_twice_for_one_document_gives_the_open_one(person):
    unit = UnitFactory()
    ProtocolFactory(kind=unit.model.kind)
    assert open_for(unit, person) == open_for(unit, person)
    assert Inspection.objects.count() == 1


def test_one_begun_under_an_older_version_is_carried_on_under_it(person):
    unit = UnitFactory()
    ProtocolFactory(kind=unit.model.kind, version=1)
    begun = open_for(unit, person)
    ProtocolFactory(kind=unit.model.kind, version=2)
    assert open_for(unit, person) == begun


def test_another_document_opens_another_inspection(person):
    unit = UnitFactory()
    ProtocolFactory(kind=unit.model.kind)
    assert open_for(unit, person) != open_for(unit, person, document="J00002")


def test_after_a_finished_inspection_a_new_one_opens(person):
    unit = UnitFactory()
    ProtocolFactory(kind=unit.model.kind)
    first = open_for(unit, person)
    finish_inspection(inspection=first, by=person, at=LATER)
    assert open_for(unit, person) != first


def test_a_kind_without_a_protocol_is_refused_with_a_sentence(person):
    with pytest.raises(InspectionError, match="no protocol “final test” for the kind “treadmill”"):
        open_for(UnitFactory(), person, occasion="final")


# --- Recording


@pytest.mark.parametrize(("condition", "outcome"), [("clean", "pass"), ("glazed", "fail")])
def test_the_step_judges_the_condition(record, belt, condition, outcome):
    assert record(belt, condition=condition).outcome == outcome


@pytest.mark.parametrize(
    ("value", "outcome", "condition"),
    [("12", "pass", "within-limits"), ("12.5", "fail", "high-current")],
)
def test_the_steps_limits_judge_a_measure(record, current, value, outcome, condition):
    result = record(current, value=Decimal(value))
    result.refresh_from_db()
    assert (result.outcome, result.condition, result.value) == (outcome, condition, Decimal(value))


def test_not_possible_is_kept_with_its_reason_and_without_a_value(record, current):
    result = record(current, outcome="not-possible", reason=" no meter ", value=Decimal(3))
    assert (result.outcome, result.reason, result.value) == ("not-possible", "no meter", None)


def test_a_result_of_an_open_inspection_can_be_corrected(record, belt):
    record(belt, condition="glazed", note="shiny")
    record(belt, condition="clean", note="")
    result = StepResult.objects.get()
    assert (result.outcome, result.note) == ("pass", "")


def test_a_correction_without_a_picture_keeps_the_picture(record, belt):
    photo = StoredFileFactory()
    record(belt, condition="glazed", photo=photo)
    record(belt, condition="clean")
    assert StepResult.objects.get().photo == photo


@pytest.mark.parametrize(
    ("answer", "says"),
    [
        ({"condition": "purple"}, "Choose one of the conditions"),
        ({"condition": ""}, "Choose one of the conditions"),
        ({"condition": "clean", "outcome": "fail"}, "contradicts"),
        ({"outcome": "not-possible", "reason": "  "}, "Say why"),
    ],
)
def test_an_answer_that_the_step_cannot_take_is_refused(record, belt, answer, says):
    with pytest.raises(InspectionError, match=says):
        record(belt, **answer)
    assert not StepResult.objects.exists()


@pytest.mark.parametrize("value", [None, "-1", "NaN", "Infinity", "1000000", "1.00001"])
def test_a_value_that_is_no_measure_is_refused(record, current, value):
    with pytest.raises(InspectionError, match="measured value"):
        record(current, value=None if value is None else Decimal(value))
    assert not StepResult.objects.exists()


def test_a_step_of_another_protocol_is_refused(record, belt):
    stranger = ProtocolStepFactory(protocol=ProtocolFactory(version=9))
    with pytest.raises(InspectionError, match="another protocol"):
        record(stranger, condition="clean")


def test_a_refused_picture_leaves_no_result(inspection, belt, person):
    upload = SimpleUploadedFile("belt.jpg", b"not a picture")
    with pytest.raises(FileRefusedError):
        record_step(
            inspection=inspection,
            step=belt,
            condition="clean",
            upload=upload,
            by=person,
            at=MORNING,
        )
    assert not StepResult.objects.exists()
    assert not StoredFile.objects.exists()


# --- Finishing


def finish(inspection, person, at=LATER):
    return finish_inspection(inspection=inspection, by=person, at=at)


def test_finishing_names_the_steps_that_are_missing(record, inspection, belt, current, person):
    record(belt, condition="clean")
    with pytest.raises(MissingStepsError, match="One step has no result yet: Current") as refusal:
        finish(inspection, person)
    assert refusal.value.steps == [current]
    assert not Finding.objects.exists()
    inspection.refresh_from_db()
    assert not inspection.is_finished


def test_finishing_writes_a_finding_for_every_result(record, inspection, belt, current, person):
    record(belt, condition="glazed")
    record(current, outcome="not-possible", reason="no meter")
    finish(inspection, person)
    found = Finding.objects.values_list("component_id", "condition", "passes", "holds", "unit")
    assert list(found) == [
        ("running-belt", "glazed", False, False, inspection.unit_id),
        ("running-belt", "not-possible", False, False, inspection.unit_id),
    ]


def test_a_condition_may_speak_of_another_component_than_its_step(record, inspection, person):
    ComponentFactory(slug="drive-motor")
    step = ProtocolStepFactory(
        protocol=inspection.protocol,
        conditions=[
            {"condition": "quiet", "label": "quiet", "passes": True},
            {"condition": "loud", "label": "loud", "passes": False, "component": "drive-motor"},
        ],
    )
    record(step, condition="loud")
    finish(inspection, person)
    assert Finding.objects.get().component_id == "drive-motor"


@pytest.mark.parametrize(
    ("occasion", "answer", "holds"),
    [
        ("arrival", {"condition": "glazed"}, True),
        ("arrival", {"condition": "clean"}, False),
        ("arrival", {"outcome": "not-possible", "reason": "no power"}, False),
        ("final", {"outcome": "not-possible", "reason": "no power"}, True),
    ],
)
def test_failing_a_holding_step_holds_the_machine(person, occasion, answer, holds):
    unit = UnitFactory()
    protocol = ProtocolFactory(kind=unit.model.kind, occasion=occasion)
    step = ProtocolStepFactory(protocol=protocol, holds=True)
    inspection = InspectionFactory(unit=unit, protocol=protocol)
    record_result(inspection=inspection, step=step, by=person, at=MORNING, **answer)
    finish(inspection, person)
    assert Finding.objects.get().holds is holds


def test_finishing_twice_is_refused_and_writes_nothing_more(record, inspection, belt, person):
    record(belt, condition="glazed")
    finish(inspection, person)
    with pytest.raises(InspectionError, match="is finished"):
        finish(inspection, person)
    assert Finding.objects.count() == 1


def test_a_finished_inspection_takes_no_further_result(record, inspection, belt, person):
    record(belt, condition="glazed")
    finish(inspection, person)
    with pytest.raises(InspectionError, match="Inspect again"):
        record(belt, condition="clean")
    assert StepResult.objects.get().condition == "glazed"


def test_the_database_itself_keeps_a_finished_inspection(record, inspection, belt, person):
    record(belt, condition="glazed")
    finish(inspection, person)
    attempts = [
        lambda: StepResult.objects.update(condition="clean"),
        lambda: StepResult.objects.get().delete(),
        lambda: Inspection.objects.update(finished_at=None, finished_by=None),
        lambda: Finding.objects.update(passes=True),
    ]
    for attempt in attempts:
        with pytest.raises((IntegrityError, ProtectedError)), transaction.atomic():
            attempt()
    assert Finding.objects.get().passes is False
