"""An error code of the model is chosen in the inspection, and is a finding in its own right."""

import pytest
from django.db import IntegrityError, transaction
from django.urls import reverse

from tests.factories.units import (
    MORNING,
    ComponentFactory,
    InspectionFactory,
    KindComponentFactory,
    MachineModelFactory,
    ProtocolStepFactory,
    UnitFactory,
)
from units.binder.services import record_error_code, take_out
from units.inspections.models import ComponentOutcome, Protocol, StepResult
from units.inspections.selectors import (
    inspection_sheet,
    protocol_tables,
    standing_findings,
    verdicts_of,
)
from units.inspections.services import (
    InspectionError,
    clear_findings,
    finish_inspection,
    record_result,
)

pytestmark = pytest.mark.django_db
CONDITIONS = [
    {"condition": "none", "label": "no code", "passes": True},
    {"condition": "code-shown", "label": "a code that is not listed", "passes": False},
]


@pytest.fixture
def bench(client, technician):
    client.force_login(technician)
    return client


@pytest.fixture
def model():
    model = MachineModelFactory(kind__slug="treadmill")
    for position, slug in enumerate(["console-board", "speed-sensor", "upright-cable"], start=1):
        component = ComponentFactory(slug=slug)
        KindComponentFactory(kind=model.kind, component=component, position=position)
    return model


@pytest.fixture
def write_code(technician):
    def act(model, code="E1", meaning="no pulses <b>at all</b>", suspects=("speed-sensor",)):
        components = [ComponentFactory(slug=slug) for slug in suspects]
        words = {"components": components, "source": "manual, page 40"}
        words |= {"by": technician, "at": MORNING}
        return record_error_code(model=model, code=code, meaning=meaning, **words)

    return act


@pytest.fixture
def code(model, write_code):
    return write_code(model)


@pytest.fixture
def inspection(model):
    inspection = InspectionFactory(unit=UnitFactory(model=model), document="J00001")
    ProtocolStepFactory(
        protocol=inspection.protocol,
        position=1,
        key="codes",
        component=ComponentFactory(slug="console-board"),
        conditions=CONDITIONS,
        power="on",
    )
    return inspection


@pytest.fixture
def address(inspection):
    return reverse("inspection-step", args=[inspection.pk, 1])


def record(inspection, person, **words):
    step = inspection.protocol.steps.get()
    return record_result(inspection=inspection, step=step, by=person, at=MORNING, **words)


def finished(inspection, person, code):
    record(inspection, person, condition="code-shown", code=code.pk)
    finish_inspection(inspection=inspection, by=person, at=MORNING)
    return standing_findings([inspection.unit])[inspection.unit_id]


def test_whoever_has_a_console_is_asked_for_a_code_where_there_is_time():
    for kind in ("treadmill", "elliptical", "upright-bike", "recumbent-bike", "stair-climber"):
        asking = {
            one.occasion
            for one in protocol_tables()
            if one.kind == kind and "codes" in [step.key for step in one.steps]
        }
        assert asking == {"purchase", "arrival", "repair"}


def test_the_codes_of_the_model_stand_at_the_step_and_are_chosen_by_one_tap(
    bench, inspection, address, code
):
    page = bench.get(address).content.decode()
    assert f'<button name="code" value="{code.pk}">E1: no pulses &lt;b&gt;at all' in page
    assert bench.post(address, {"code": code.pk}).status_code == 302
    result = StepResult.objects.get()
    assert (result.error_code, result.condition, result.outcome) == (code, "code-shown", "fail")
    page = bench.get(address).content.decode()
    assert f'value="{code.pk}" aria-current="true"' in page
    assert 'value="code-shown" aria-current' not in page


def test_a_code_that_is_not_listed_is_found_as_such(bench, address, code):
    assert bench.post(address, {"condition": "code-shown", "note": "E77"}).status_code == 302
    result = StepResult.objects.get()
    assert (result.error_code, result.label) == (None, "a code that is not listed")


def test_choosing_no_code_afterwards_takes_the_code_away(inspection, technician, code):
    record(inspection, technician, condition="code-shown", code=code.pk)
    assert record(inspection, technician, condition="none").error_code is None


def test_not_possible_goes_before_a_code_that_was_sent_along(bench, address, code):
    bench.post(address, {"code": code.pk, "because": "no power here"})
    result = StepResult.objects.get()
    assert (result.outcome, result.error_code) == ("not-possible", None)


def test_a_code_speaks_for_its_suspects_and_says_who_says_so(inspection, technician, code):
    record(inspection, technician, condition="code-shown", code=code.pk)
    (meaning,) = inspection_sheet(inspection).meanings
    assert [one.pk for one in meaning.components] == ["speed-sensor"]
    assert meaning.verdict.act == "suspect"
    assert "Code E1: no pulses" in meaning.verdict.reason
    assert "manual, page 40" in meaning.verdict.reason


def test_a_code_without_suspects_leads_to_the_console_that_shows_it(
    inspection, technician, model, write_code
):
    code = write_code(model, suspects=())
    record(inspection, technician, condition="code-shown", code=code.pk)
    (meaning,) = inspection_sheet(inspection).meanings
    assert [one.pk for one in meaning.components] == ["console-board"]


def test_a_code_stands_as_a_finding_until_work_on_a_suspect(inspection, technician, code):
    (finding,) = finished(inspection, technician, code)
    assert finding.label == "E1: no pulses <b>at all</b>"
    assert [one.pk for one in finding.suspects] == ["speed-sensor"]
    words = {"document": "J00001", "by": technician, "at": MORNING}
    assert clear_findings(unit=inspection.unit, components={"upright-cable"}, **words) == 0
    assert clear_findings(unit=inspection.unit, components={"speed-sensor"}, **words) == 1
    assert standing_findings([inspection.unit])[inspection.unit_id] == []


def test_a_code_is_no_look_at_the_console_board(inspection, technician, code):
    finished(inspection, technician, code)
    assert not ComponentOutcome.objects.exists()


def test_standing_findings_take_one_query_more_for_codes(
    inspection, technician, code, django_assert_num_queries
):
    finished(inspection, technician, code)
    with django_assert_num_queries(2):
        (finding,) = standing_findings([inspection.unit])[inspection.unit_id]
        assert (finding.label, len(finding.suspects)) == ("E1: no pulses <b>at all</b>", 1)


@pytest.mark.parametrize("wrong", ["another model's", "taken out", "none", "huge"])
def test_a_code_that_is_not_in_the_binder_is_refused_with_a_sentence(
    bench, address, technician, code, write_code, wrong
):
    sent = {"none": 987654, "huge": 2**60, "taken out": code.pk}.get(wrong)
    if wrong == "another model's":
        sent = write_code(MachineModelFactory(), suspects=()).pk
    if wrong == "taken out":
        take_out(entry=code, reason="wrong manual", by=technician, at=MORNING)
    answer = bench.post(address, {"code": sent})
    assert answer.status_code == 422
    assert not StepResult.objects.exists()
    assert 'class="errorlist"' in answer.content.decode()


def test_a_code_goes_with_no_other_answer(inspection, technician, code):
    with pytest.raises(InspectionError, match="goes with the answer that one is shown"):
        record(inspection, technician, condition="none", code=code.pk)
    result = record(inspection, technician, condition="none")
    with pytest.raises(IntegrityError), transaction.atomic():
        StepResult.objects.filter(pk=result.pk).update(error_code=code)


def test_a_step_with_many_codes_takes_no_more_queries(
    bench, inspection, address, model, write_code, django_assert_max_num_queries
):
    for number in range(30):
        write_code(model, code=f"E{number}")
    with django_assert_max_num_queries(12):
        assert bench.get(address).content.decode().count('name="code"') == 30


# --- Hours


def test_hours_are_asked_wherever_a_machine_comes_to_us_with_a_counter():
    asking = {
        (one.kind, one.occasion)
        for one in protocol_tables()
        if "hours" in [step.key for step in one.steps]
    }
    kinds = ("treadmill", "elliptical", "upright-bike", "recumbent-bike", "stair-climber")
    assert asking == {(kind, when) for kind in kinds for when in ("purchase", "club", "arrival")}


def test_hours_go_with_every_outcome_and_are_shown_alone(technician, bench, reference):
    protocol = Protocol.objects.get(slug="treadmill-club")
    model = MachineModelFactory(kind=protocol.kind)
    inspection = InspectionFactory(unit=UnitFactory(model=model), protocol=protocol)
    for step in protocol.steps.all():
        answer = {"value": 1234} if step.answer == "measure" else {}
        if not answer:
            answer = {"condition": next(r["condition"] for r in step.conditions if r["passes"])}
        record_result(inspection=inspection, step=step, by=technician, at=MORNING, **answer)
    finish_inspection(inspection=inspection, by=technician, at=MORNING)
    assert set(ComponentOutcome.objects.values_list("hours", flat=True)) == {1234}
    page = bench.get(reverse("inspection", args=[inspection.pk])).content.decode()
    row = page.split("Hours on the counter")[-1].split("</tr>")[0]
    assert "1,234 h" in row
    assert "sound" not in row


def test_a_code_that_stands_means_the_same_for_an_estimate(inspection, technician, code):
    (finding,) = finished(inspection, technician, code)
    (verdict,) = verdicts_of([finding.result], inspection.unit.model.kind_id)
    assert (verdict.component, verdict.act) == ("speed-sensor", "suspect")
