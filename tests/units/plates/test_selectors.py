from datetime import timedelta

import pytest

from tests.factories.units import MORNING, PlateRecordFactory, UnitFactory
from units.plates.selectors import newest_plates

pytestmark = pytest.mark.django_db


def test_newest_reading_of_each_machine_is_given():
    plate = PlateRecordFactory()
    newer = PlateRecordFactory(unit=plate.unit, confirmed_at=MORNING + timedelta(days=1))
    other, without = PlateRecordFactory(), UnitFactory()
    assert newest_plates([plate.unit, other.unit, without]) == {
        plate.unit_id: newer,
        other.unit_id: other,
    }


def test_readings_of_many_machines_take_one_query(django_assert_num_queries):
    units = [PlateRecordFactory().unit for _ in range(5)]
    with django_assert_num_queries(1):
        plates = newest_plates(units)
        assert [str(plate.confirmed_by) for plate in plates.values() if plate.photo.path]
