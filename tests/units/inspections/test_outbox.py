"""What waited on a phone comes to the shop: once, by its id, and as nobody else's."""

import json
import uuid
from datetime import timedelta
from io import BytesIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone
from PIL import Image

from tests.factories.units import (
    MORNING,
    InspectionFactory,
    MeasureStepFactory,
    PersonFactory,
    ProtocolStepFactory,
)
from units.inspections.models import OutboxEntry, StepResult
from units.inspections.services import Entry, finish_inspection, record_result

pytestmark = pytest.mark.django_db
KEY = uuid.UUID(int=7)


@pytest.fixture
def inspection():
    inspection = InspectionFactory(document="J00001")
    ProtocolStepFactory(protocol=inspection.protocol, position=1, key="belt")
    MeasureStepFactory(protocol=inspection.protocol, position=2, key="current", title="Current")
    return inspection


@pytest.fixture
def send(client, technician, inspection):
    """Send an entry as the technician's phone does; what the shop answers, as a dictionary."""
    client.force_login(technician)

    def act(**words):
        entry = {
            "id": KEY,
            "owner": technician.pk,
            "device_at": "2026-10-05T09:00:00.123Z",
            "inspection": inspection.pk,
            "step": 1,
            "condition": "glazed",
        }
        answer = client.post(reverse("inspection-outbox"), entry | words)
        return json.loads(answer.content) | {"status": answer.status_code}

    return act


def other(number: int) -> uuid.UUID:
    return uuid.UUID(int=number)


def test_an_entry_is_taken_and_the_answer_names_its_id(send, technician, inspection):
    answer = send(note="shiny")
    assert (answer["id"], answer["state"], answer["status"]) == (str(KEY), "accepted", 200)
    result, entry = StepResult.objects.get(), OutboxEntry.objects.get()
    assert (result.condition, result.note, result.recorded_by) == ("glazed", "shiny", technician)
    assert (entry.client_key, entry.step, entry.recorded_by) == (KEY, result.step, technician)
    assert entry.device_at.isoformat() == "2026-10-05T09:00:00.123000+00:00"
    assert entry.received_at == result.recorded_at
    assert answer["at"] == int(entry.received_at.timestamp() * 1000)


def test_the_same_id_twice_is_one_row(send):
    assert send()["state"] == "accepted"
    assert send()["state"] == "had"
    assert (StepResult.objects.count(), OutboxEntry.objects.count()) == (1, 1)


def test_an_old_entry_that_comes_again_does_not_undo_a_correction(send):
    send()
    send(id=other(8), condition="clean")
    assert send()["state"] == "had"
    assert StepResult.objects.get().condition == "clean"


def test_an_entry_that_comes_again_after_finishing_is_known(send, inspection, technician):
    send()
    send(id=other(8), step=2, condition="", value="9")
    assert send(id=other(9), step="")["state"] == "accepted"
    inspection.refresh_from_db()
    assert (inspection.is_finished, inspection.finished_by) == (True, technician)
    assert [send()["state"], send(id=other(9), step="")["state"]] == ["had", "had"]


def test_finishing_too_early_is_refused_with_the_missing_step(send, inspection):
    answer = send(step="")
    assert (answer["state"], answer["status"]) == ("refused", 422)
    assert "Current" in answer["sentence"]
    assert not OutboxEntry.objects.exists()


def test_another_person_s_entry_is_not_taken(send):
    answer = send(owner=PersonFactory(seats=["technician"]).pk)
    assert answer["state"] == "not-yours"
    assert "Somebody else answered this" in answer["sentence"]
    assert not StepResult.objects.exists()


def test_an_id_that_somebody_else_used_is_refused(send, inspection, technician):
    OutboxEntry.objects.create(
        client_key=KEY,
        inspection=inspection,
        device_at=MORNING,
        received_at=MORNING,
        recorded_by=PersonFactory(),
    )
    answer = send()
    assert (answer["state"], "under this id" in answer["sentence"]) == ("refused", True)


def test_a_finished_inspection_refuses_with_the_sentence(send, inspection, technician):
    first, second = inspection.protocol.steps.all()
    words = {"inspection": inspection, "by": technician, "at": MORNING}
    record_result(step=first, condition="clean", **words)
    record_result(step=second, value=9, **words)
    finish_inspection(inspection=inspection, by=technician, at=MORNING)
    answer = send()
    assert answer["state"] == "refused"
    assert "This inspection is finished" in answer["sentence"]
    assert StepResult.objects.get(step=first).condition == "clean"


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ({"step": 2, "condition": "", "value": "warm"}, "Write the value as a number"),
        ({"step": 2, "condition": "", "value": "-3"}, "a number from 0"),
        ({"condition": "purple"}, "Select a valid choice"),
        ({"condition": "", "outcome": "not-possible", "reason": " "}, "Say why"),
        ({"step": 9}, "another protocol"),
        ({"inspection": 99999}, "Select a valid choice"),
        ({"id": "seven"}, "Enter a valid UUID"),
        ({"device_at": "this morning"}, "Enter a valid date/time"),
    ],
)
def test_a_bad_entry_is_refused_with_a_sentence_and_leaves_nothing(send, words, says):
    answer = send(**words)
    assert (answer["state"], answer["status"]) == ("refused", 422)
    assert says in answer["sentence"]
    assert not StepResult.objects.exists()
    assert not OutboxEntry.objects.exists()


def test_a_refused_entry_may_be_sent_again_under_its_id(send):
    assert send(condition="purple")["state"] == "refused"
    assert send()["state"] == "accepted"


def test_what_waited_does_not_write_over_what_somebody_else_found_since(
    send, inspection, technician
):
    step = inspection.protocol.steps.get(position=1)
    robin = PersonFactory(first_name="Robin", last_name="Sedge")
    record_result(inspection=inspection, step=step, condition="clean", by=robin, at=MORNING)
    early = (MORNING - timedelta(hours=1)).isoformat()
    answer = send(device_at=early)
    assert answer["state"] == "refused"
    assert "Robin Sedge answered this step after you" in answer["sentence"]
    assert StepResult.objects.get().condition == "clean"
    later = (MORNING + timedelta(hours=1)).isoformat()
    assert send(id=other(8), device_at=later)["state"] == "accepted"


def test_one_s_own_later_answer_is_written_over_whatever_the_phone_s_clock_says(send):
    send()
    assert send(id=other(8), condition="clean", device_at="2001-01-01T00:00:00Z")["state"] == (
        "accepted"
    )
    assert StepResult.objects.get().condition == "clean"


def test_a_photo_comes_along_and_a_file_that_is_none_is_refused(send):
    content = BytesIO()
    Image.new("RGB", (60, 40), "grey").save(content, "PNG")
    wrong = SimpleUploadedFile("belt.jpg", b"MZ not a picture", "image/jpeg")
    assert "not a picture" in send(photo=wrong)["sentence"]
    assert not StepResult.objects.exists()
    right = SimpleUploadedFile("belt.png", content.getvalue(), "image/png")
    assert send(photo=right)["state"] == "accepted"
    assert StepResult.objects.get().photo.original_name == "belt.png"


def test_signed_out_a_script_is_told_so_and_no_message_is_left_for_the_next_page(client):
    answer = client.post(
        reverse("inspection-outbox"), {"id": KEY}, headers={"accept": "application/json"}
    )
    assert answer.status_code == 401
    assert "messages" not in answer.cookies


def test_the_front_desk_s_seat_sends_nothing(client, inspection):
    client.force_login(PersonFactory(seats=["front desk"]))
    assert client.post(reverse("inspection-outbox"), {"id": KEY}).status_code == 403


@pytest.mark.parametrize("hours", [-9, 9])
def test_a_phone_whose_clock_is_wrong_is_judged_by_how_long_ago_it_answered(
    send, inspection, technician, hours
):
    """By the phone's own two times: one hour waited, whatever day the phone believes it is."""
    somebody = PersonFactory(first_name="Kim", last_name="Hale")
    step = inspection.protocol.steps.get(position=1)
    now = timezone.now()
    wrong = now + timedelta(hours=hours)
    times = {"device_at": (wrong - timedelta(hours=1)).isoformat(), "sent_at": wrong.isoformat()}
    before, after = now - timedelta(hours=2), now - timedelta(minutes=30)
    words = {"inspection": inspection, "step": step, "condition": "clean", "by": somebody}
    record_result(**words, at=before)
    assert send(**times)["state"] == "accepted"
    record_result(**words, at=after)
    answer = send(id=other(8), **times)
    assert answer["state"] == "refused"
    assert "answered this step after you" in answer["sentence"]


def test_a_clock_that_was_set_back_in_between_counts_as_now():
    at = timezone.now()
    entry = Entry(KEY, 1, None, device_at=at, sent_at=at - timedelta(days=1))
    assert entry.answered_at(at) == at
