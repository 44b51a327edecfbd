import pytest

from tests.factories.pictures import picture, upload
from tests.factories.units import (
    MORNING,
    MachineModelFactory,
    MakerFactory,
    PersonFactory,
    StoredFileFactory,
    UnitFactory,
)
from units.catalogue.models import Unit, UnitPhoto
from units.catalogue.services import (
    OtherMachineError,
    SerialError,
    add_photo,
    add_photos,
    correct_identity,
    find_or_add_unit,
    merge_model,
)
from units.files.models import StoredFile
from units.files.services import FileRefusedError

pytestmark = pytest.mark.django_db


def find_or_add(model, serial):
    return find_or_add_unit(model=model, serial=serial, by=PersonFactory(), at=MORNING)


def test_new_machine_says_who_saw_it_first_and_when():
    by = PersonFactory()
    model = MachineModelFactory()
    unit, added = find_or_add_unit(model=model, serial=" CV 1 ", by=by, at=MORNING)
    assert added
    assert (unit.maker, unit.serial, unit.serial_key) == (model.maker, "CV 1", "CV1")
    assert (unit.first_seen_by, unit.first_seen_at) == (by, MORNING)


def test_same_serial_again_brings_up_the_same_machine():
    unit = UnitFactory(serial="CV1")
    assert find_or_add(unit.model, "cv-1") == (unit, False)


def test_same_serial_under_another_model_of_the_maker_is_the_same_machine():
    unit = UnitFactory(serial="CV1")
    assert find_or_add(MachineModelFactory(), "CV1") == (unit, False)


def test_same_serial_of_another_maker_is_another_machine():
    UnitFactory(serial="CV1")
    other = MachineModelFactory(maker=MakerFactory(name="Holmgate"))
    assert find_or_add(other, "CV1")[1]


def test_machines_without_a_readable_serial_are_never_one():
    model = MachineModelFactory()
    assert find_or_add(model, "")[0] != find_or_add(model, "")[0]


@pytest.mark.parametrize("serial", ["   ", "--", "x" * 61])
def test_serial_that_is_none_is_refused_and_adds_nothing(serial):
    with pytest.raises(SerialError):
        find_or_add(MachineModelFactory(), serial)
    assert not Unit.objects.exists()


def test_machine_of_a_merged_model_goes_to_the_one_that_stayed():
    old, stays = MachineModelFactory(), MachineModelFactory()
    merge_model(model=old, into=stays)
    assert find_or_add(old, "CV1")[0].model == stays


def test_identity_follows_the_plate():
    unit = UnitFactory(serial="CV1")
    model = MachineModelFactory(maker=MakerFactory(name="Holmgate"))
    correct_identity(unit=unit, model=model, serial="HG 7")
    unit.refresh_from_db()
    assert (unit.maker, unit.model, unit.serial_key) == (model.maker, model, "HG7")


def test_identity_of_another_machine_is_refused_and_names_it():
    other = UnitFactory(serial="CV1")
    unit = UnitFactory(serial="CV2")
    with pytest.raises(OtherMachineError, match="CV1") as refusal:
        correct_identity(unit=unit, model=unit.model, serial="cv 1")
    assert refusal.value.other == other
    unit.refresh_from_db()
    assert unit.serial == "CV2"


def test_photo_is_kept_with_the_job_it_belongs_to():
    unit, file = UnitFactory(), StoredFileFactory()
    by = PersonFactory()
    photo = add_photo(unit=unit, file=file, shows="fault", document="J00001", by=by, at=MORNING)
    assert unit.photos.get() == photo
    assert (photo.document, photo.shows, photo.taken_by) == ("J00001", "fault", by)


def test_photo_of_nothing_known_is_refused():
    with pytest.raises(ValueError, match="ghost"):
        add_photo(
            unit=UnitFactory(),
            file=StoredFileFactory(),
            shows="ghost",
            by=PersonFactory(),
            at=MORNING,
        )


def add(unit, *uploads, shows="sale"):
    return add_photos(unit=unit, uploads=uploads, shows=shows, by=PersonFactory(), at=MORNING)


def test_pictures_are_stored_and_kept():
    unit = UnitFactory()
    assert len(add(unit, upload(), upload(picture(colour="red")))) == 2
    assert unit.photos.count() == 2


def test_picture_sent_twice_is_kept_once():
    unit = UnitFactory()
    add(unit, upload())
    assert add(unit, upload(), upload()) == []
    assert UnitPhoto.objects.count() == 1
    assert StoredFile.objects.count() == 1


def test_picture_for_a_second_purpose_is_kept_again():
    unit = UnitFactory()
    add(unit, upload(), shows="arrival")
    assert len(add(unit, upload(), shows="sale")) == 1


def test_one_damaged_picture_keeps_all_away():
    unit = UnitFactory()
    damaged = picture(size=(200, 200))[:-40]
    with pytest.raises(FileRefusedError):
        add(unit, upload(), upload(damaged))
    assert not UnitPhoto.objects.exists()
    assert not StoredFile.objects.exists()
