from datetime import timedelta

import pytest
from django.urls import reverse

from tests.factories.pictures import picture, upload
from tests.factories.plates import a_reading, said
from tests.factories.units import (
    MORNING,
    MachineModelFactory,
    PersonFactory,
    PlateReadingFactory,
    PlateRecordFactory,
    PlateWalkFactory,
    UnitFactory,
)
from units.plates.models import PlateReading, PlateRecord, PlateWalk

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("own_storage")]
HTMX = {"HX-Request": "true"}
SURE = {"maker": "Corvane", "number": "TM-9", "serial": "CV100"}


@pytest.fixture
def owner(client):
    client.force_login(PersonFactory(seats=["owner"]))
    return client


@pytest.fixture
def walk():
    return PlateWalkFactory()


@pytest.fixture
def model():
    return MachineModelFactory(number="TM-9")


def shown(client, walk, headers=None, **more):
    return client.get(reverse("plate-walk", args=[walk.pk]), more, headers=headers)


def text_of(client, walk) -> str:
    response = shown(client, walk)
    assert response.status_code == 200
    return response.content.decode()


def in_walk(walk, place, *fields):
    return a_reading(*fields, walk=walk, asked_at=MORNING + timedelta(minutes=place))


def test_a_walk_begins_with_its_place(owner):
    response = owner.post(reverse("plate-walk-add"), {"place": " The  gym "})
    walk = PlateWalk.objects.get()
    assert walk.place == "The gym"
    assert response["Location"] == reverse("plate-walk", args=[walk.pk])
    assert "no photo yet" in text_of(owner, walk)


@pytest.mark.parametrize("place", ["", "   ", "x" * 121])
def test_a_walk_without_a_place_that_does_gets_a_sentence(owner, place):
    response = owner.post(reverse("plate-walk-add"), {"place": place})
    assert response.status_code == 422
    assert list(response.context["form"].errors) == ["place"]
    assert not PlateWalk.objects.exists()


def test_photos_sent_without_a_script_lead_back_to_the_walk(owner, walk):
    photos = [upload(picture(colour=colour)) for colour in ("red", "blue", "red")]
    response = owner.post(reverse("plate-read"), {"photo": photos, "walk": walk.pk})
    assert response["Location"] == reverse("plate-walk", args=[walk.pk]) + "#rows"
    assert walk.readings.count() == 2


def test_a_photo_sent_by_a_script_gives_its_row(owner, walk):
    sent = {"photo": upload(), "walk": walk.pk}
    response = owner.post(reverse("plate-read"), sent, headers=HTMX)
    reading = walk.readings.get()
    assert f'<li id="row-{reading.pk}"' in response.content.decode()
    assert response["HX-Trigger"] == "walk-changed"


def test_a_walk_that_is_not_there_gets_a_sentence_and_no_photo(owner):
    nowhere = "00000000-0000-4000-8000-000000000000"
    response = owner.post(reverse("plate-read"), {"photo": upload(), "walk": nowhere})
    assert response.status_code == 422
    assert not PlateReading.objects.exists()


@pytest.mark.usefixtures("model")
def test_rows_stand_as_sent_each_with_what_can_be_done(owner, walk):
    look = in_walk(walk, 2, said("serial", "CV200", "look"))
    sure = in_walk(walk, 1, said("serial", "CV100"), said("volts", "120"))
    PlateReadingFactory(walk=walk, asked_at=MORNING + timedelta(minutes=3))
    text = text_of(owner, walk)
    assert "2 of 3 done, 0 confirmed" in text
    assert text.index(str(sure.pk)) < text.index(str(look.pk))
    assert text.count("Take this") == 1
    assert '<input type="hidden" name="volts" value="120">' in text
    assert text.count('name="waiting"') == 1


def test_a_sure_row_of_an_unknown_model_must_be_looked_at(owner, walk):
    in_walk(walk, 1)
    text = text_of(owner, walk)
    assert "Take this" not in text
    assert "its kind is asked" in text


@pytest.mark.usefixtures("model")
def test_one_serial_on_two_photos_is_noticed_and_not_taken_by_one_press(owner, walk):
    in_walk(walk, 1)
    in_walk(walk, 2)
    text = text_of(owner, walk)
    assert "Photo 1 has the same serial." in text
    assert "Photo 2 has the same serial." in text
    assert "Take this" not in text


def test_a_machine_that_is_known_is_named_in_its_row(owner, walk, model):
    unit = UnitFactory(model=model, serial="CV100")
    in_walk(walk, 1)
    assert reverse("machine", args=[unit.pk]) in text_of(owner, walk)


@pytest.mark.usefixtures("model")
def test_a_row_is_confirmed_in_its_place(owner, walk):
    reading = in_walk(walk, 1)
    response = owner.post(reverse("plate-confirm", args=[reading.pk]), SURE, headers=HTMX)
    text = response.content.decode()
    assert "<!doctype" not in text
    assert f'id="row-{reading.pk}"' in text
    assert "confirmed" in text
    assert response["HX-Trigger"] == "walk-changed"
    assert PlateRecord.objects.get().reading == reading


@pytest.mark.usefixtures("model")
def test_a_row_confirmed_without_a_script_leads_back_to_its_place(owner, walk):
    reading = in_walk(walk, 1)
    response = owner.post(reverse("plate-confirm", args=[reading.pk]), SURE)
    place = f"{reverse('plate-walk', args=[walk.pk])}#row-{reading.pk}"
    assert response["Location"] == place


def test_a_row_that_cannot_be_confirmed_says_why_and_offers_a_look(owner, walk, model):
    PlateRecordFactory(unit=UnitFactory(model=model, serial="CV100"))
    MachineModelFactory(number="TM-10")
    reading = in_walk(walk, 1, said("model", "TM-10"))
    sent = SURE | {"number": "TM-10"}
    response = owner.post(reverse("plate-confirm", args=[reading.pk]), sent, headers=HTMX)
    text = response.content.decode()
    assert response.status_code == 422
    assert "was read as" in text
    assert reverse("plate-reading", args=[reading.pk]) in text
    assert "Take this" not in text


def test_progress_brings_the_rows_that_were_read_since(owner, walk):
    read, still = in_walk(walk, 1), PlateReadingFactory(walk=walk)
    asked = {"part": "progress", "seen": "2-0-0-0", "waiting": [read.pk, still.pk]}
    text = shown(owner, walk, HTMX, **asked).content.decode()
    assert "1 of 2 done" in text
    assert f'<li id="row-{read.pk}" tabindex="-1" hx-swap-oob="true"' in text
    assert f'id="row-{still.pk}"' not in text
    assert "every 1500ms" in text


def test_progress_that_was_seen_changes_nothing(owner, walk):
    in_walk(walk, 1)
    assert shown(owner, walk, HTMX, part="progress", seen="1-1-0-0").status_code == 204


def test_progress_stops_when_all_photos_are_read(owner, walk):
    in_walk(walk, 1)
    text = shown(owner, walk, HTMX, part="progress", seen="").content.decode()
    assert "every" not in text


def test_a_walk_does_not_slow_down_with_its_photos(owner, walk, django_assert_max_num_queries):
    for place in range(3):
        in_walk(walk, place, said("serial", f"CV{place}"))
    with django_assert_max_num_queries(12) as few:
        shown(owner, walk)
    for place in range(3, 10):
        PlateRecordFactory(reading=in_walk(walk, place, said("serial", f"CV{place}")))
    with django_assert_max_num_queries(len(few)):
        shown(owner, walk)


def test_the_accountant_walks_nowhere(client, walk):
    client.force_login(PersonFactory(seats=["accountant"]))
    assert shown(client, walk).status_code == 403
    assert client.post(reverse("plate-walk-add"), {"place": "Gym"}).status_code == 403
    assert PlateWalk.objects.count() == 1


def test_a_photo_set_aside_is_said_so_in_its_walk(owner, walk, model):
    reading = a_reading(said("serial", "CV100"), walk=walk)
    assert "Take this" in text_of(owner, walk)

    owner.post(reverse("plate-aside", args=[reading.pk]))

    assert "1 set aside" in text_of(owner, walk)
    assert "Take this" not in text_of(owner, walk)
