from datetime import timedelta
from io import BytesIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from tests.factories.units import (
    MORNING,
    InspectionFactory,
    MeasureStepFactory,
    PersonFactory,
    ProtocolFactory,
    ProtocolStepFactory,
    UnitFactory,
)
from units.inspections.models import Protocol, StepResult
from units.inspections.services import finish_inspection, open_inspection, record_result

pytestmark = pytest.mark.django_db


@pytest.fixture
def bench(client, technician):
    client.force_login(technician)
    return client


@pytest.fixture
def inspection():
    """Two steps: a look at the belt that holds the machine, then the current."""
    inspection = InspectionFactory(document="J00001")
    first = {"title": "Belt underside", "holds": True, "cautions": ["unplug"]}
    ProtocolStepFactory(protocol=inspection.protocol, position=1, key="belt", **first)
    MeasureStepFactory(protocol=inspection.protocol, position=2, key="current", title="Current")
    return inspection


def address(inspection, position):
    return reverse("inspection-step", args=[inspection.pk, position])


def summary(inspection):
    return reverse("inspection", args=[inspection.pk])


def finish_address(inspection):
    return reverse("inspection-finish", args=[inspection.pk])


def picture(name="belt.png"):
    content = BytesIO()
    Image.new("RGB", (60, 40), "grey").save(content, "PNG")
    return SimpleUploadedFile(name, content.getvalue(), "image/png")


def finish(inspection, person):
    first, second = inspection.protocol.steps.all()
    words = {"inspection": inspection, "by": person, "at": MORNING}
    record_result(step=first, condition="glazed", **words)
    record_result(step=second, value=10, **words)
    finish_inspection(inspection=inspection, by=person, at=MORNING + timedelta(hours=1))


def test_a_step_shows_what_to_do_its_cautions_and_where_one_stands(bench, inspection):
    page = bench.get(address(inspection, 1)).content.decode()
    for words in ("Belt underside", "all along the landing zone", "Unplug the machine before"):
        assert words in page
    assert "Step 1 of 2, <span data-recorded>0</span> recorded" in page
    assert "Not sound here holds the machine" in page


def test_an_answer_is_kept_and_leads_to_the_next_step(bench, inspection):
    answer = bench.post(address(inspection, 1), {"condition": "glazed", "note": "shiny"})
    assert answer.url == address(inspection, 2)
    result = StepResult.objects.get()
    assert (result.outcome, result.note, result.recorded_by.username) == (
        "fail",
        "shiny",
        answer.wsgi_request.user.username,
    )


def test_the_last_step_leads_to_the_summary(bench, inspection):
    assert bench.post(address(inspection, 2), {"value": "11.5"}).url == summary(inspection)


def test_going_back_shows_what_was_recorded(bench, inspection):
    bench.post(address(inspection, 1), {"condition": "glazed", "note": "shiny"})
    bench.post(address(inspection, 2), {"value": "11.50"})
    first = bench.get(address(inspection, 1)).context["form"]
    assert (first["condition"].value(), first["note"].value()) == ("glazed", "shiny")
    assert bench.get(address(inspection, 2)).context["form"]["value"].value() == "11.5"


def test_the_same_answer_sent_twice_is_one_result(bench, inspection):
    for _ in range(2):
        bench.post(address(inspection, 1), {"condition": "glazed"})
    assert StepResult.objects.count() == 1


def test_of_two_tablets_the_last_answer_counts(bench, inspection):
    bench.post(address(inspection, 1), {"condition": "glazed"})
    bench.post(address(inspection, 1), {"condition": "clean"})
    assert StepResult.objects.get().condition == "clean"


@pytest.mark.parametrize(
    ("position", "data", "says"),
    [
        (1, {}, "Choose what you find"),
        (1, {"condition": "purple"}, "Select a valid choice"),
        (1, {"outcome": "not-possible", "reason": " "}, "Say why the step was not possible."),
        (2, {"value": "warm"}, "Write the value as a number"),
        (2, {"value": "-3"}, "a number from 0"),
        (2, {"value": "1.00001"}, "at most four decimals"),
        (1, {"condition": "clean", "outcome": "fail"}, "contradicts"),
    ],
)
def test_a_wrong_answer_gets_a_sentence_and_is_not_kept(bench, inspection, position, data, says):
    answer = bench.post(address(inspection, position), data)
    assert answer.status_code == 422
    assert says in answer.content.decode()
    assert not StepResult.objects.exists()


def test_not_possible_is_kept_with_its_reason(bench, inspection):
    bench.post(address(inspection, 2), {"outcome": "not-possible", "reason": "no meter"})
    assert StepResult.objects.get().reason == "no meter"


def test_a_picture_is_kept_with_the_answer(bench, inspection):
    bench.post(address(inspection, 1), {"condition": "clean", "photo": picture()})
    result = StepResult.objects.get()
    assert result.photo.original_name == "belt.png"
    shown = bench.get(address(inspection, 1)).content.decode()
    assert reverse("file-small", args=[result.photo_id]) in shown


def test_a_file_that_is_no_picture_is_refused_at_its_field(bench, inspection):
    wrong = SimpleUploadedFile("belt.jpg", b"MZ not a picture", "image/jpeg")
    answer = bench.post(address(inspection, 1), {"condition": "clean", "photo": wrong})
    assert answer.status_code == 422
    assert answer.context["form"].errors["photo"]
    assert not StepResult.objects.exists()


def test_a_step_that_the_protocol_does_not_have_is_not_found(bench, inspection):
    assert bench.get(address(inspection, 3)).status_code == 404


def test_a_finished_inspection_leads_to_its_summary_and_refuses_an_answer(
    bench, technician, inspection
):
    finish(inspection, technician)
    assert bench.get(address(inspection, 1)).url == summary(inspection)
    answer = bench.post(address(inspection, 1), {"condition": "clean"})
    assert answer.status_code == 422
    assert "This inspection is finished" in answer.content.decode()
    assert StepResult.objects.get(step__position=1).condition == "glazed"


def test_the_summary_leads_to_the_next_step_until_all_are_done(bench, inspection):
    assert address(inspection, 1) in bench.get(summary(inspection)).content.decode()
    bench.post(address(inspection, 1), {"condition": "clean"})
    bench.post(address(inspection, 2), {"value": "9"})
    assert finish_address(inspection) in bench.get(summary(inspection)).content.decode()


def test_finishing_leads_to_the_summary_and_says_so(bench, inspection):
    bench.post(address(inspection, 1), {"condition": "glazed"})
    bench.post(address(inspection, 2), {"value": "9"})
    answer = bench.post(finish_address(inspection), follow=True)
    assert answer.redirect_chain == [(summary(inspection), 302)]
    page = answer.content.decode()
    assert "The inspection is finished." in page
    assert "J00001" in page


def test_finishing_too_early_names_the_missing_step_and_finishes_nothing(bench, inspection):
    bench.post(address(inspection, 1), {"condition": "glazed"})
    answer = bench.post(finish_address(inspection))
    assert answer.status_code == 422
    assert "One step has no result yet: Current" in answer.content.decode()
    inspection.refresh_from_db()
    assert not inspection.is_finished


def test_finishing_twice_says_that_it_is_finished(bench, technician, inspection):
    finish(inspection, technician)
    answer = bench.post(finish_address(inspection))
    assert answer.status_code == 422
    assert "This inspection is finished" in answer.content.decode()


def test_the_front_desk_reads_an_inspection_and_records_nothing(client, inspection):
    client.force_login(PersonFactory(seats=["front desk"]))
    assert client.get(summary(inspection)).status_code == 200
    assert client.post(address(inspection, 1), {"condition": "clean"}).status_code == 403
    assert client.post(finish_address(inspection)).status_code == 403
    assert not StepResult.objects.exists()


@pytest.fixture
def inspected_treadmill(reference, technician):
    """A treadmill of the shipped protocol with everything at its worst."""
    unit = UnitFactory()
    words = {"by": technician, "at": MORNING}
    inspection = open_inspection(unit=unit, occasion="arrival", document="J00001", **words)
    for step in inspection.protocol.steps.all():
        if step.answer == "measure":
            record_result(inspection=inspection, step=step, value=18, **words)
        else:
            worst = step.conditions[-1]["condition"]
            record_result(inspection=inspection, step=step, condition=worst, **words)
    return inspection


def test_the_summary_tells_what_is_found_and_what_it_means(bench, inspected_treadmill):
    page = bench.get(summary(inspected_treadmill)).content.decode()
    for words in ("taken apart, or cannot be run", "18 A", "holds the machine", "Replace: frame"):
        assert words in page
    assert "Pulling the safety key does not stop the belt." in page


def test_no_page_of_an_inspection_takes_more_than_twelve_queries(
    bench, inspected_treadmill, django_assert_max_num_queries
):
    pages = [summary(inspected_treadmill), address(inspected_treadmill, 3)]
    pages += [reverse("protocol-list")]
    pages += [reverse("protocol", args=[inspected_treadmill.protocol_id])]
    for page in pages:
        with django_assert_max_num_queries(12):
            assert bench.get(page).status_code == 200


def test_protocols_are_listed_by_kind_and_occasion(bench, reference):
    every = bench.get(reverse("protocol-list"))
    assert len(every.context["object_list"]) == 8 * 6
    some = bench.get(reverse("protocol-list"), {"kind": "rower", "occasion": "final"})
    assert [protocol.slug for protocol in some.context["object_list"]] == ["rower-final"]


def test_a_protocol_shows_every_step_with_its_answers(bench, reference):
    protocol = Protocol.objects.get(slug="treadmill-arrival")
    page = bench.get(reverse("protocol", args=[protocol.pk])).content.decode()
    assert "30. Noise and smell" in page
    assert "Sound up to 12 A." in page


def test_the_list_of_protocols_does_not_ask_more_for_more_rows(
    bench, django_assert_max_num_queries
):
    for version in range(1, 30):
        ProtocolFactory(version=version)
    with django_assert_max_num_queries(9):
        bench.get(reverse("protocol-list"))
