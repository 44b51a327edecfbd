import pytest
from django.urls import reverse

from tests.factories.pictures import picture, upload
from tests.factories.plates import a_reading, said
from tests.factories.units import (
    MachineModelFactory,
    PersonFactory,
    PlateRecordFactory,
    UnitFactory,
)
from units.files.models import StoredFile
from units.plates.models import PlateRecord

pytestmark = pytest.mark.django_db


@pytest.fixture
def desk(client):
    client.force_login(PersonFactory(seats=["front desk"]))
    return client


@pytest.fixture
def unit():
    return UnitFactory(model=MachineModelFactory(number="TM-9"), serial="CV1")


def send(client, unit, **changes):
    said = {"photo": upload(), "maker": "Corvane", "number": "TM-9", "serial": "CV1"} | changes
    return client.post(reverse("plate-add", args=[unit.pk]), said)


def test_form_offers_maker_and_model_but_the_serial_must_be_read(
    desk, unit, django_assert_max_num_queries
):
    with django_assert_max_num_queries(12):
        response = desk.get(reverse("plate-add", args=[unit.pk]))
    form = response.context["form"]
    assert (form["maker"].value(), form["number"].value()) == ("Corvane", "TM-9")
    assert not form["serial"].value()


def test_reading_is_recorded_and_leads_to_the_machine(desk, unit):
    response = send(desk, unit)
    assert response["Location"] == reverse("machine", args=[unit.pk])
    assert unit.plates.get().photo.original_name == "plate.jpg"


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"photo": ""}, "photo"),
        ({"photo": upload(b"text", name="a.txt")}, "photo"),
        ({"photo": upload(picture(size=(200, 200))[:-30])}, "photo"),
        ({"maker": ""}, "maker"),
        ({"number": "x" * 61}, "number"),
        ({"serial": "   "}, "serial"),
        ({"maker": "--"}, "__all__"),
    ],
)
def test_wrong_reading_gets_a_sentence_and_records_nothing(desk, unit, wrong, field):
    response = send(desk, unit, **wrong)
    assert response.status_code == 422
    assert list(response.context["form"].errors) == [field]
    assert not PlateRecord.objects.exists()
    assert not StoredFile.objects.exists()


def test_contradiction_gets_a_sentence_on_top_of_the_page(desk, unit):
    PlateRecordFactory(unit=unit)
    response = send(desk, unit, serial="CV2")
    assert response.status_code == 422
    assert "log that one in" in response.content.decode()
    assert PlateRecord.objects.count() == 1


def test_serial_of_another_machine_gets_a_link_to_it(desk, unit):
    other = UnitFactory(model=unit.model, serial="CV2")
    response = send(desk, unit, serial="CV2")
    link = f'<a href="{reverse("machine", args=[other.pk])}">Corvane TM-9 CV2</a>'
    assert response.status_code == 422
    assert link in response.content.decode()


def test_what_was_typed_is_never_markup(desk, unit):
    PlateRecordFactory(unit=unit)
    response = send(desk, unit, number="<b>TM-10</b>")
    assert response.status_code == 422
    assert b"<b>TM-10" not in response.content


def test_accountant_reads_no_plates(client, unit):
    client.force_login(PersonFactory(seats=["accountant"]))
    assert send(client, unit).status_code == 403
    assert not PlateRecord.objects.exists()


def test_a_photo_that_comes_along_is_read_for_the_record(desk, unit):
    send(desk, unit)
    record = PlateRecord.objects.get()
    assert (record.reading.state, record.reading.photo) == ("waiting", record.photo)


def test_a_photo_sent_beforehand_is_taken_with_what_was_changed(desk, unit):
    reading = a_reading(said("serial", "CVI"))
    response = send(desk, unit, photo="", reading=reading.pk)
    record = PlateRecord.objects.get()
    assert response.status_code == 302
    assert (record.reading, record.photo) == (reading, reading.photo)
    assert record.changed == {"serial": ["CVI", "CV1"]}


def test_a_photo_of_another_machine_s_record_is_refused_and_names_it(desk, unit):
    reading = a_reading()
    other = PlateRecordFactory(reading=reading).unit
    response = send(desk, unit, photo="", reading=reading.pk)
    assert response.status_code == 422
    assert f'<a href="{reverse("machine", args=[other.pk])}">' in response.content.decode()


def test_a_form_that_comes_back_still_names_its_photo(desk, unit):
    reading = a_reading()
    response = send(desk, unit, photo="", reading=reading.pk, maker="")
    assert response.status_code == 422
    assert reverse("plate-reading", args=[reading.pk]) in response.content.decode()
