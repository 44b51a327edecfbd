import pytest
from django.db import IntegrityError, transaction

from tests.factories.units import PlateReadingFactory, PlateRecordFactory
from units.plates.models import PlateReading

pytestmark = pytest.mark.django_db


def test_reading_is_never_changed_or_removed():
    plate = PlateRecordFactory()
    plate.serial_text = "CV9"
    with pytest.raises(IntegrityError, match="only grows"), transaction.atomic():
        plate.save()
    with pytest.raises(IntegrityError, match="only grows"), transaction.atomic():
        plate.delete()


def test_what_was_read_is_never_changed():
    reading = PlateReadingFactory(read=True)
    for change in ({"outcome": "look"}, {"proposal": {}}, {"state": "waiting"}, {"crop": None}):
        with pytest.raises(IntegrityError, match="stays as it was read"), transaction.atomic():
            PlateReading.objects.filter(pk=reading.pk).update(**change)


@pytest.mark.parametrize(
    "held",
    [
        {"state": "read", "outcome": "sure"},
        {"state": "read", "proposal": {}},
        {"state": "unread"},
        {"state": "unread", "trouble": "died", "outcome": "look"},
        {"state": "waiting", "trouble": "died"},
        {"state": "reading", "proposal": {}},
    ],
)
def test_reading_holds_only_what_its_state_says(held):
    with pytest.raises(IntegrityError), transaction.atomic():
        PlateReadingFactory(**held)


def test_reading_gives_its_proposal_back_as_it_was_kept():
    reading = PlateReadingFactory(read=True, texts={"serial": "CV9"})
    assert reading.read.text_of("serial") == "CV9"
    assert reading.read.as_json() == reading.proposal
    assert PlateReadingFactory().read is None
