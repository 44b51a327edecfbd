import pytest
from django.db import IntegrityError, transaction

from tests.factories.units import PlateRecordFactory

pytestmark = pytest.mark.django_db


def test_reading_is_never_changed_or_removed():
    plate = PlateRecordFactory()
    plate.serial_text = "CV9"
    with pytest.raises(IntegrityError, match="only grows"), transaction.atomic():
        plate.save()
    with pytest.raises(IntegrityError, match="only grows"), transaction.atomic():
        plate.delete()
