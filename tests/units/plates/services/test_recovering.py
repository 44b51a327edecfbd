import pytest
from django_tasks_db.models import DBTaskResult

from tests.factories.units import MORNING, PlateReadingFactory
from units.plates.services.recovering import take_up_readings
from units.plates.services.tasks import read_plate

pytestmark = pytest.mark.django_db


def test_reading_begun_and_never_ended_is_said_to_be_interrupted():
    reading = PlateReadingFactory(state="reading")
    assert take_up_readings(at=MORNING) == (1, 0)
    reading.refresh_from_db()
    assert (reading.state, reading.trouble, reading.ended_at) == ("unread", "interrupted", MORNING)


def test_waiting_photo_whose_task_is_lost_is_queued_again_and_others_are_not():
    lost, queued = PlateReadingFactory(), PlateReadingFactory()
    read_plate.enqueue(str(queued.pk))
    spent = read_plate.enqueue(str(lost.pk))
    DBTaskResult.objects.get(pk=spent.id).set_successful(None)
    assert take_up_readings(at=MORNING) == (0, 1)
    assert take_up_readings(at=MORNING) == (0, 0)


def test_ended_readings_are_left_alone():
    PlateReadingFactory(read=True)
    PlateReadingFactory(state="unread", trouble="died")
    assert take_up_readings(at=MORNING) == (0, 0)
    assert not DBTaskResult.objects.exists()
