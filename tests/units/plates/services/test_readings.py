import pytest

from tests.factories.pictures import picture
from tests.factories.units import MORNING, PlateReadingFactory
from tests.units.plates import obedient_reader
from units.files.models import StoredFile
from units.plates.domain.proposal import Proposal
from units.plates.models import PlateReading
from units.plates.services.readings import begin_reading, keep_read, keep_unread, put_off

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("own_storage")]


def now(reading) -> PlateReading:
    return PlateReading.objects.get(pk=reading.pk)


def keep(reading, proposal=None, plate=None) -> bool:
    proposal = proposal or obedient_reader.proposal()
    return keep_read(reading=reading, proposal=proposal, plate=plate, at=MORNING)


def test_waiting_photo_is_begun_by_one_reader_only():
    reading = PlateReadingFactory()
    begun = begin_reading(pk=reading.pk, at=MORNING)
    assert (begun.state, begun.begun_at) == ("reading", MORNING)
    assert begin_reading(pk=reading.pk, at=MORNING) is None


def test_what_was_read_is_kept_with_the_plate_alone():
    reading = PlateReadingFactory(state="reading")
    assert keep(reading, plate=picture(size=(80, 50)))
    kept = now(reading)
    assert (kept.state, kept.outcome, kept.ended_at) == ("read", "sure", MORNING)
    assert kept.read.text_of("serial") == "CV1O2"
    assert (kept.crop.width, kept.crop.audience) == (80, kept.photo.audience)


def test_photo_without_a_plate_is_read_all_the_same():
    reading = PlateReadingFactory(state="reading")
    assert keep(reading, Proposal(fields={}))
    assert (now(reading).state, now(reading).outcome, now(reading).crop) == ("read", "type", None)


def test_characters_that_no_database_keeps_are_replaced():
    reading = PlateReadingFactory(state="reading")
    keep(reading, obedient_reader.proposal(serial="CV\ud8001"))
    assert now(reading).read.barcodes[0].text == "CV\ufffd02"
    assert now(reading).read.text_of("serial") == "CV?1"


@pytest.mark.parametrize("state", ["waiting", "unread"])
def test_reading_given_up_meanwhile_is_not_overwritten_and_leaves_no_crop(state, own_storage):
    trouble = "interrupted" if state == "unread" else ""
    reading = PlateReadingFactory(state=state, trouble=trouble)
    assert not keep(reading, plate=picture())
    assert now(reading).state == state
    assert not StoredFile.objects.exclude(pk=reading.photo_id).exists()
    assert list(own_storage.rglob("*.jpg")) == []


def test_unread_photo_says_its_trouble():
    reading = PlateReadingFactory(state="reading")
    keep_unread(reading=reading, trouble="too-long", at=MORNING)
    assert (now(reading).state, now(reading).trouble) == ("unread", "too-long")


def test_trouble_nobody_knows_is_refused():
    with pytest.raises(ValueError, match="bad mood"):
        keep_unread(reading=PlateReadingFactory(state="reading"), trouble="bad mood", at=MORNING)


def test_photo_put_off_waits_again():
    reading = PlateReadingFactory(state="reading", begun_at=MORNING)
    put_off(reading=reading)
    assert (now(reading).state, now(reading).begun_at) == ("waiting", None)


def test_photo_that_was_read_is_not_put_off():
    reading = PlateReadingFactory(read=True)
    put_off(reading=reading)
    assert now(reading).state == "read"
