from io import BytesIO

import pytest
from django.urls import reverse
from PIL import Image

from tests.factories.pictures import picture, upload
from tests.factories.plates import a_proposal, a_reading, blank, said
from tests.factories.units import MORNING, PersonFactory, PlateReadingFactory
from units.files.services import store_picture

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("own_storage")]


@pytest.fixture
def desk(client):
    client.force_login(PersonFactory(seats=["front desk"]))
    return client


@pytest.fixture
def photo():
    drawn = upload(picture(size=(900, 520), colour=["red", "blue"]))
    return store_picture(upload=drawn, by=PersonFactory(), at=MORNING)


def piece(client, reading, field="serial", **more):
    return client.get(reverse("plate-crop", args=[reading.pk, field]), **more)


@pytest.mark.parametrize(("field", "tall"), [("serial", 140), ("plate", 620)])
def test_a_field_and_the_plate_are_cut_out_of_the_photo(desk, photo, field, tall):
    response = piece(desk, a_reading(photo=photo), field)
    with Image.open(BytesIO(response.content)) as cut:
        assert cut.format == "JPEG"
        assert cut.height <= tall
    assert response["Content-Type"] == "image/jpeg"


def test_a_piece_is_kept_by_the_browser_and_asked_for_again(desk, photo):
    reading = a_reading(photo=photo)
    first = piece(desk, reading)
    again = piece(desk, reading, headers={"If-None-Match": first["ETag"]})
    assert first["Cache-Control"] == "private, no-cache"
    assert (again.status_code, again.content) == (304, b"")


@pytest.mark.parametrize("field", ["volts", "nothing", "proposal"])
def test_what_was_not_read_has_no_piece(desk, photo, field):
    assert piece(desk, a_reading(said("volts", "120"), photo=photo), field).status_code == 404


def test_a_photo_without_a_plate_and_one_that_waits_have_no_piece(desk, photo):
    assert piece(desk, a_reading(proposal=blank(), photo=photo), "plate").status_code == 404
    assert piece(desk, PlateReadingFactory(photo=photo)).status_code == 404


def test_a_photo_that_is_no_longer_on_the_disk_is_not_found(desk):
    assert piece(desk, a_reading()).status_code == 404


def test_a_photo_for_other_seats_does_not_exist(desk, photo):
    photo.audience = "office"
    photo.save()
    assert piece(desk, a_reading(photo=photo)).status_code == 404


def test_the_accountant_sees_no_piece(client, photo):
    client.force_login(PersonFactory(seats=["accountant"]))
    assert piece(client, a_reading(photo=photo)).status_code == 403


def test_a_plate_at_the_edge_of_the_photo_is_shown_whole(desk, photo):
    edge = ((0, 0), (1, 0), (1, 1), (0, 1))
    response = piece(desk, a_reading(proposal=a_proposal(plate=edge), photo=photo), "plate")
    assert response.status_code == 200
