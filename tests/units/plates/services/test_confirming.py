import pytest

from tests.factories.units import (
    MORNING,
    KindFactory,
    MachineModelFactory,
    PersonFactory,
    PlateReadingFactory,
    PlateRecordFactory,
    UnitFactory,
)
from units.catalogue.models import MachineModel, Maker, Unit
from units.catalogue.services import CatalogueError, SerialError
from units.plates.models import PlateRecord
from units.plates.services import PlateError, confirm_reading

pytestmark = pytest.mark.django_db


@pytest.fixture
def reading():
    return PlateReadingFactory(read=True, texts={"model": "TM-9", "serial": "CV1", "volts": "120"})


def confirm(reading, maker="Corvane", number="TM-9", serial="CV1", **more) -> PlateRecord:
    return confirm_reading(
        reading=reading,
        maker=maker,
        number=number,
        serial=serial,
        by=PersonFactory(),
        at=MORNING,
        **more,
    )


def test_machine_of_a_known_model_is_added_with_its_plate(reading):
    model = MachineModelFactory(number="TM-9")
    record = confirm(reading, volts="120")
    assert (record.unit.model, record.unit.serial) == (model, "CV1")
    assert (record.photo, record.reading) == (reading.photo, reading)
    assert (record.volts, record.changed) == ("120", {})


def test_machine_seen_before_gets_the_record(reading):
    unit = UnitFactory(model=MachineModelFactory(number="TM-9"), serial="CV1")
    PlateRecordFactory(unit=unit)
    assert confirm(reading, volts="120").unit == unit
    assert unit.plates.count() == 2


def test_new_model_needs_its_kind_and_nothing_is_kept_without(reading):
    with pytest.raises(CatalogueError, match="Say what kind of machine it is"):
        confirm(reading, maker="Pellworth", number="PW 3")
    assert not Maker.objects.exists()
    assert not Unit.objects.exists()


def test_new_model_of_a_kind_is_added_unconfirmed(reading):
    record = confirm(reading, number="TM-10", kind=KindFactory(slug="rower"))
    assert (record.unit.model.kind_id, record.unit.model.confirmed) == ("rower", False)


def test_what_the_person_changed_is_kept_beside_the_record(reading):
    MachineModelFactory(number="TM-9")
    record = confirm(reading, serial="CV7", made="2019-03", volts="120")
    assert record.changed == {"serial": ["CV1", "CV7"], "made": ["", "2019-03"]}


def test_confirming_twice_gives_the_first_record(reading):
    MachineModelFactory(number="TM-9")
    first = confirm(reading)
    assert confirm(reading, serial="CV2") == first
    assert PlateRecord.objects.count() == 1
    assert Unit.objects.count() == 1


def test_photo_still_being_read_may_be_confirmed_by_hand():
    MachineModelFactory(number="TM-9")
    record = confirm(PlateReadingFactory(state="reading"))
    assert record.changed is None


def test_reading_of_a_given_machine_is_recorded_on_it(reading):
    unit = UnitFactory(model=MachineModelFactory(number="TM-9"), serial="", serial_key="")
    record = confirm(reading, unit=unit)
    unit.refresh_from_db()
    assert (record.unit, unit.serial) == (unit, "CV1")


def test_serial_of_another_machine_is_refused_and_says_which(reading):
    other = UnitFactory(model=MachineModelFactory(number="TM-9"), serial="CV1")
    unit = UnitFactory(model=other.model, serial="", serial_key="")
    with pytest.raises(PlateError) as caught:
        confirm(reading, unit=unit)
    assert caught.value.other == other
    assert not PlateRecord.objects.exists()


def test_reading_that_contradicts_what_was_read_before_is_refused(reading):
    unit = UnitFactory(model=MachineModelFactory(number="TM-10"), serial="CV1")
    PlateRecordFactory(unit=unit)
    MachineModelFactory(number="TM-9", maker=unit.maker)
    with pytest.raises(PlateError, match="was read as Corvane TM-10 CV1 before"):
        confirm(reading)
    assert MachineModel.objects.count() == 2


def test_serial_of_only_marks_is_refused(reading):
    MachineModelFactory(number="TM-9")
    with pytest.raises(SerialError):
        confirm(reading, serial="--")
    assert not Unit.objects.exists()


def test_fact_that_does_not_fit_is_refused_and_not_cut(reading):
    MachineModelFactory(number="TM-9")
    with pytest.raises(PlateError, match="“volts” has at most 12 characters"):
        confirm(reading, volts="220 to 240 V~")
    assert not Unit.objects.exists()
