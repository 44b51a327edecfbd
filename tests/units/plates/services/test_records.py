import pytest

from tests.factories.units import (
    MORNING,
    KindFactory,
    MachineModelFactory,
    PersonFactory,
    PlateReadingFactory,
    PlateRecordFactory,
    StoredFileFactory,
    UnitFactory,
)
from units.catalogue.models import MachineModel, Maker
from units.catalogue.services import CatalogueError, SerialError, merge_model
from units.plates.models import PlateRecord
from units.plates.services import PlateError, record_plate

pytestmark = pytest.mark.django_db


@pytest.fixture
def unit():
    return UnitFactory(model=MachineModelFactory(number="TM-9"), serial="CV1")


def read(unit, maker="Corvane", number="TM-9", serial="CV1", **more):
    plate = record_plate(
        unit=unit,
        photo=StoredFileFactory(),
        maker_text=maker,
        model_text=number,
        serial_text=serial,
        by=PersonFactory(),
        at=MORNING,
        **more,
    )
    unit.refresh_from_db()
    return plate


def test_reading_is_kept_as_read_with_its_photo(unit):
    plate = read(unit, maker=" CORVANE ", number="TM  9", serial=" cv 1 ")
    assert (plate.maker_text, plate.model_text, plate.serial_text) == ("CORVANE", "TM 9", "cv 1")
    assert (plate.photo_id is not None, plate.confirmed_at) == (True, MORNING)


def test_first_reading_says_what_the_machine_is(unit):
    read(unit, maker="Holmgate", number="HT 5", serial="HG7")
    assert (unit.maker.name, unit.model.number, unit.serial) == ("Holmgate", "HT 5", "HG7")


def test_new_model_on_a_plate_is_of_the_machines_kind_and_unconfirmed():
    rower = UnitFactory(model__kind=KindFactory(slug="rower"))
    read(rower, number="RW-1", serial=rower.serial)
    assert (rower.model.kind_id, rower.model.confirmed) == ("rower", False)


def test_second_reading_that_agrees_is_kept_too(unit):
    read(unit)
    read(unit, maker="corvane", number="tm9", serial="cv-1")
    assert unit.plates.count() == 2


@pytest.mark.parametrize("other", [{"maker": "Holmgate"}, {"number": "TM-10"}, {"serial": "CV2"}])
def test_second_reading_that_contradicts_is_refused_and_changes_nothing(unit, other):
    read(unit)
    with pytest.raises(PlateError, match="was read as Corvane TM-9 CV1 before"):
        read(unit, **other)
    unit.refresh_from_db()
    assert str(unit) == "Corvane TM-9 CV1"
    assert PlateRecord.objects.count() == 1
    assert Maker.objects.count() == 1
    assert MachineModel.objects.count() == 1


def test_machine_without_a_serial_gets_the_one_that_was_read(unit):
    unit.serial = unit.serial_key = ""
    unit.save()
    read(unit, serial="")
    read(unit, serial="CV 7")
    assert (unit.serial, unit.serial_key) == ("CV 7", "CV7")


@pytest.mark.parametrize("earlier", [0, 1])
def test_unreadable_serial_takes_none_away(unit, earlier):
    PlateRecordFactory.create_batch(earlier, unit=unit)
    assert read(unit, serial="").serial_text == ""
    assert unit.serial == "CV1"


def test_reading_under_a_merged_number_agrees(unit):
    old = MachineModelFactory(number="TM-9OLD")
    merge_model(model=old, into=unit.model)
    read(unit)
    read(unit, number="TM-9 old")
    assert unit.plates.count() == 2


def test_serial_of_another_machine_is_refused_and_names_it(unit):
    other = UnitFactory(model=unit.model, serial="CV2")
    with pytest.raises(PlateError, match="Corvane TM-9 CV2 is in the books already") as refusal:
        read(unit, serial="cv 2")
    assert refusal.value.other == other
    assert not PlateRecord.objects.exists()


@pytest.mark.parametrize(
    ("wrong", "error"),
    [
        ({"serial": "  "}, SerialError),
        ({"serial": "x" * 61}, SerialError),
        ({"maker": "-"}, CatalogueError),
        ({"number": ""}, CatalogueError),
    ],
)
def test_reading_that_says_nothing_is_refused(unit, wrong, error):
    with pytest.raises(error):
        read(unit, **wrong)
    assert not PlateRecord.objects.exists()


def test_photo_confirmed_before_is_refused_and_says_for_which_machine(unit):
    reading = PlateReadingFactory(read=True)
    first = PlateRecordFactory(reading=reading, photo=reading.photo)
    with pytest.raises(PlateError, match="confirmed already") as caught:
        read(unit, reading=reading)
    assert caught.value.other == first.unit


def test_corrections_of_the_reader_are_kept_and_agreement_is_an_empty_list(unit):
    texts = {"model": "TM-9", "serial": "CVI"}
    record = read(unit, reading=PlateReadingFactory(read=True, texts=texts))
    assert record.changed == {"serial": ["CVI", "CV1"]}
    texts = {"model": "TM-9", "serial": "CV1"}
    assert read(unit, reading=PlateReadingFactory(read=True, texts=texts)).changed == {}


def test_record_without_a_reading_says_nothing_of_corrections(unit):
    assert read(unit).changed is None


def test_supply_and_date_are_kept_as_read(unit):
    record = read(unit, volts=" 120 ", hertz="60", amps="15", made="2019-03")
    assert (record.volts, record.hertz, record.amps, record.made) == ("120", "60", "15", "2019-03")
