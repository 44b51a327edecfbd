import pytest
from django.core.files.storage import default_storage

from tests.factories.units import MORNING, MakerFactory, PersonFactory, PlateReadingFactory
from tests.units.plates import obedient_reader as orders
from units.plates.models import PlateReading
from units.plates.services import ask_reading
from units.plates.services.reading_child import reader_child
from units.plates.services.tasks import read_plate

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("own_storage", "obedient")]


@pytest.fixture
def done(photo):
    """``done(order)``: a photo asked for and worked on, as it stands then."""

    def work(order=orders.READ) -> PlateReading:
        reading = ask_reading(upload=photo(order), by=PersonFactory(), at=MORNING)
        read_plate.call(str(reading.pk))
        reading.refresh_from_db()
        return reading

    return work


def test_photo_is_read_with_what_the_catalogue_knows(done):
    MakerFactory(name="Holmgate")
    reading = done()
    assert (reading.state, reading.outcome) == ("read", "sure")
    assert reading.read.lines[-1].text == "Holmgate"
    assert reading.begun_at <= reading.ended_at
    assert reading.crop.width == 160


@pytest.mark.parametrize(
    ("order", "trouble"),
    [(orders.EXIT, "died"), (orders.RAISE, "died"), (orders.REFUSE, "unreadable")],
)
def test_photo_that_cannot_be_read_says_why_and_the_next_one_is_read(done, order, trouble):
    reading = done(order)
    assert (reading.state, reading.trouble, reading.crop) == ("unread", trouble, None)
    assert done().state == "read"


def test_stopped_worker_leaves_the_photo_waiting(done):
    reader_child().stop()
    reading = done(orders.HANG)
    assert (reading.state, reading.begun_at) == ("waiting", None)


def test_photo_lost_from_the_disk_is_unread_and_the_error_is_kept_with_the_task(photo):
    reading = ask_reading(upload=photo(), by=PersonFactory(), at=MORNING)
    default_storage.delete(reading.photo.path)
    with pytest.raises(FileNotFoundError):
        read_plate.call(str(reading.pk))
    reading.refresh_from_db()
    assert (reading.state, reading.trouble) == ("unread", "died")


def test_task_that_comes_twice_does_nothing_the_second_time(done):
    reading = done()
    ended = reading.ended_at
    read_plate.call(str(reading.pk))
    reading.refresh_from_db()
    assert reading.ended_at == ended


def test_task_of_a_reading_that_is_gone_does_nothing():
    pk = PlateReadingFactory.build().pk
    assert read_plate.call(str(pk)) is None
