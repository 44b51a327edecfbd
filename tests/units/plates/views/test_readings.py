import pytest
from django.urls import reverse
from django.utils import timezone

from tests.factories.pictures import picture, upload
from tests.factories.plates import PLATE, a_proposal, a_reading, blank, said
from tests.factories.units import (
    KindFactory,
    MachineModelFactory,
    MakerFactory,
    PersonFactory,
    PlateReadingFactory,
    PlateRecordFactory,
    PlateWalkFactory,
    StoredFileFactory,
    UnitFactory,
)
from units.catalogue.models import Unit
from units.files.models import StoredFile
from units.plates.domain.proposal import Barcode
from units.plates.models import PlateReading, PlateRecord

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("own_storage")]
HTMX = {"HX-Request": "true"}
DOUBT = said("serial", "CV100", "look", {"CV1OO": 0.3})
SURE = {"maker": "Corvane", "number": "TM-9", "serial": "CV100"}


@pytest.fixture
def desk(client):
    client.force_login(PersonFactory(seats=["front desk"]))
    return client


@pytest.fixture
def model():
    return MachineModelFactory(number="TM-9")


def page(client, reading, **more) -> str:
    response = client.get(reverse("plate-reading", args=[reading.pk]), more)
    assert response.status_code == 200
    return response.content.decode()


def part(client, reading, **more):
    return client.get(reverse("plate-reading", args=[reading.pk]), more, headers=HTMX)


def send(client, *uploads, headers=None, **more):
    return client.post(reverse("plate-read"), {"photo": uploads, **more}, headers=headers)


def confirm(client, reading, headers=None, **sent):
    return client.post(reverse("plate-confirm", args=[reading.pk]), sent, headers=headers)


def test_a_photo_is_kept_and_leads_to_its_page(desk):
    response = send(desk, upload())
    reading = PlateReading.objects.get()
    assert response["Location"] == reverse("plate-reading", args=[reading.pk])
    assert (reading.state, reading.photo.original_name) == ("waiting", "plate.jpg")


def test_a_photo_sent_by_a_script_gives_the_part_that_waits(desk):
    response = send(desk, upload(), headers=HTMX)
    text = response.content.decode()
    assert "Reading the plate" in text
    assert 'hx-trigger="every 700ms"' in text
    assert "<!doctype" not in text


def test_a_photo_for_a_form_gives_a_part_without_a_form_of_its_own(desk):
    text = send(desk, upload(), headers=HTMX, **{"as": "fill"}).content.decode()
    reading = PlateReading.objects.get()
    assert f'data-fill="{reading.pk}"' in text
    assert "<form" not in text


def test_the_same_photo_twice_is_one_reading(desk):
    for _ in range(2):
        send(desk, upload())
    assert PlateReading.objects.count() == StoredFile.objects.count() == 1


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (b"text", "is not a picture"),
        (b"", "is not a picture"),
        (picture(size=(200, 200))[:-30], "is damaged or was cut off"),
    ],
)
@pytest.mark.parametrize("headers", [None, HTMX])
def test_what_is_no_photo_gets_a_sentence_and_nothing_is_kept(desk, content, sentence, headers):
    response = send(desk, upload(content), headers=headers)
    assert response.status_code == 422
    assert sentence in response.content.decode()
    assert not PlateReading.objects.exists()
    assert not StoredFile.objects.exists()


def test_no_photo_at_all_gets_a_sentence(desk):
    response = desk.post(reverse("plate-read"))
    assert response.status_code == 422
    assert "Choose a picture or take one." in response.content.decode()


def test_a_bad_photo_does_not_hold_back_the_good_ones(desk):
    response = desk.post(
        reverse("plate-read"), {"photo": [upload(b"x", "bad.jpg"), upload()]}, follow=True
    )
    assert PlateReading.objects.count() == 1
    assert "“bad.jpg” is not a picture" in response.content.decode()


def test_several_photos_lead_to_the_list_of_plates(desk):
    response = send(desk, upload(), upload(picture(colour="red")))
    assert response["Location"] == reverse("plates")
    assert PlateReading.objects.count() == 2


def test_a_waiting_photo_changes_nothing_until_there_is_more_to_say(desk):
    reading = PlateReadingFactory(asked_at=timezone.now())
    assert part(desk, reading, seen="waiting").status_code == 204
    reading = a_reading()
    assert part(desk, reading, seen="waiting").status_code == 200


def test_a_photo_that_waits_for_long_is_said_to_be_slow(desk):
    response = part(desk, PlateReadingFactory(), seen="waiting")
    assert "longer than usual" in response.content.decode()


def test_a_page_and_its_part_are_kept_apart_by_caches(desk):
    assert "HX-Request" in part(desk, a_reading())["Vary"]


def test_a_waiting_photo_can_be_typed_by_hand(desk):
    assert 'name="by_hand"' in page(desk, PlateReadingFactory())


@pytest.mark.usefixtures("model")
def test_a_sure_reading_offers_one_deed_and_no_question(desk):
    text = page(desk, a_reading())
    assert "Take this" in text
    assert 'type="radio"' not in text
    assert "Kind of machine" not in text


def test_a_doubtful_reading_shows_candidates_beside_the_piece_of_the_photo(desk):
    reading = a_reading(DOUBT)
    text = page(desk, reading)
    assert 'value="CV1OO"' in text
    assert "checked" not in text
    assert reverse("plate-crop", args=[reading.pk, "serial"]) in text


def test_what_has_to_be_typed_is_not_filled_in(desk):
    text = page(desk, a_reading(said("serial", "CV100", "type")))
    assert "Read as “CV100”, but not surely" in text
    assert 'value="CV100"' not in text


@pytest.mark.parametrize(
    ("proposal", "sentence"),
    [
        (blank(), "No plate was found in this photo. Take it again: nearer"),
        (a_proposal(plates=3), "There seem to be 3 plates in the picture."),
        (
            a_proposal(said("serial", "CV1000"), barcodes=(Barcode("Code 39", "CV1OOO", PLATE),)),
            "The print says CV1000, but the code (Code 39) says CV1OOO.",
        ),
    ],
)
def test_what_a_person_should_know_is_said(desk, proposal, sentence):
    assert sentence in page(desk, a_reading(proposal=proposal))


def test_a_serial_that_is_on_a_machine_is_said_with_a_link(desk, model):
    known = UnitFactory(model=model, serial="CV100")
    other = UnitFactory(
        model=MachineModelFactory(maker=MakerFactory(name="Holmgate")), serial="CV100"
    )
    text = page(desk, a_reading())
    assert f'<a href="{reverse("machine", args=[known.pk])}">' in text
    assert f'<a href="{reverse("machine", args=[other.pk])}">' in text


def test_the_same_photo_recorded_before_is_said_with_a_link(desk):
    photos = [StoredFileFactory(original_digest="a" * 64) for _ in range(2)]
    record = PlateRecordFactory(photo=photos[0])
    text = page(desk, a_reading(photo=photos[1]))
    assert "The same photo was recorded before" in text
    assert reverse("machine", args=[record.unit_id]) in text


def test_a_photo_that_was_not_read_says_why_and_can_be_read_again(desk):
    reading = PlateReadingFactory(state="unread", trouble="too-long")
    assert "It took longer than a photo may take." in page(desk, reading)
    response = desk.post(reverse("plate-again", args=[reading.pk]))
    reading.refresh_from_db()
    assert (response.status_code, reading.state) == (302, "waiting")


def test_a_photo_that_was_read_is_not_read_again(desk):
    reading = a_reading()
    response = desk.post(reverse("plate-again", args=[reading.pk]), follow=True)
    assert "has been read already" in response.content.decode()


def test_what_was_read_is_never_markup(desk):
    text = page(desk, a_reading(said("serial", "<i>1", "look"), said("maker", "<i>M")))
    assert "<i>" not in text


@pytest.mark.usefixtures("model")
def test_one_press_confirms_and_leads_to_the_machine(desk):
    reading = a_reading(said("volts", "120"))
    response = confirm(desk, reading, **SURE, volts="120")
    record = PlateRecord.objects.get()
    assert response["Location"] == reverse("machine", args=[record.unit_id])
    assert (record.reading, record.serial_text, record.volts) == (reading, "CV100", "120")
    assert record.changed == {}


@pytest.mark.usefixtures("model")
def test_a_second_press_says_that_nothing_was_written_again(desk):
    reading = a_reading()
    confirm(desk, reading, **SURE)
    url = reverse("plate-confirm", args=[reading.pk])
    response = desk.post(url, SURE | {"serial": "CV200"}, follow=True)
    assert "nothing was written again" in response.content.decode()
    assert Unit.objects.get().serial == "CV100"


@pytest.mark.usefixtures("model")
def test_a_candidate_is_confirmed_and_the_correction_kept(desk):
    confirm(desk, a_reading(DOUBT), maker="Corvane", number="TM-9", serial="CV1OO")
    assert PlateRecord.objects.get().changed == {"serial": ["CV100", "CV1OO"]}


def test_a_model_that_nobody_met_is_added_with_its_kind(desk):
    response = confirm(desk, a_reading(), **SURE)
    assert response.status_code == 422
    assert "Say what kind of machine it is." in response.content.decode()
    assert not Unit.objects.exists()
    confirm(desk, a_reading(), **SURE, kind=KindFactory(slug="rower").pk)
    assert Unit.objects.get().model.kind_id == "rower"


@pytest.mark.usefixtures("model")
def test_what_was_typed_while_the_photo_was_read_is_judged_as_typed(desk):
    reading = a_reading(DOUBT)
    response = confirm(desk, reading, **SURE | {"serial": "CV555"}, by_hand="yes")
    assert response.status_code == 302
    assert PlateRecord.objects.get().serial_text == "CV555"


def test_wrong_typing_by_hand_gets_its_sentence_where_it_was_typed(desk):
    wrong = {"maker": "", "number": "TM-9", "serial": " ", "by_hand": "yes"}
    response = confirm(desk, PlateReadingFactory(), **wrong)
    form = response.context["hand"]
    assert response.status_code == 422
    assert {"maker", "serial"} == set(form.errors)
    assert form["number"].value() == "TM-9"
    assert not response.context["form"].is_bound


def test_a_contradiction_gets_a_sentence_and_records_nothing(desk, model):
    known = PlateRecordFactory(unit=UnitFactory(model=model, serial="CV100"))
    MachineModelFactory(number="TM-10")
    response = confirm(desk, a_reading(), **SURE | {"number": "TM-10"})
    assert response.status_code == 422
    assert "was read as" in response.content.decode()
    assert PlateRecord.objects.get() == known


def test_a_confirmed_photo_says_whose_plate_it_is(desk):
    reading = a_reading()
    record = PlateRecordFactory(reading=reading, photo=reading.photo)
    text = page(desk, reading)
    assert reverse("machine", args=[record.unit_id]) in text
    assert "Take this" not in text


def test_the_list_shows_walks_and_loose_photos(desk):
    walk = PlateWalkFactory()
    a_reading(walk=walk)
    loose = a_reading(said("serial", "CV777"))
    done = a_reading()
    PlateRecordFactory(reading=done)
    text = desk.get(reverse("plates")).content.decode()
    assert reverse("plate-walk", args=[walk.pk]) in text
    assert "1 of 1 done, 0 confirmed" in text
    assert "CV777" in text
    assert reverse("plate-reading", args=[loose.pk]) in text
    assert reverse("plate-reading", args=[done.pk]) not in text


def test_the_list_does_not_slow_down_with_its_photos(desk, django_assert_max_num_queries):
    for _ in range(3):
        a_reading()
        a_reading(walk=PlateWalkFactory())
    with django_assert_max_num_queries(12) as few:
        desk.get(reverse("plates"))
    for _ in range(4):
        a_reading()
        a_reading(walk=PlateWalkFactory())
    with django_assert_max_num_queries(len(few)):
        desk.get(reverse("plates"))


def test_a_photo_s_page_takes_at_most_twelve_queries(desk, django_assert_max_num_queries):
    reading = a_reading(DOUBT)
    with django_assert_max_num_queries(12):
        page(desk, reading)


@pytest.mark.parametrize("name", ["plate-reading", "plate-confirm", "plate-again"])
def test_the_accountant_reads_no_plates(client, name):
    client.force_login(PersonFactory(seats=["accountant"]))
    url = reverse(name, args=[a_reading().pk])
    response = client.get(url) if name == "plate-reading" else client.post(url, SURE)
    assert response.status_code == 403
    assert not PlateRecord.objects.exists()


def test_a_photo_is_set_aside_and_leaves_the_list(desk):
    reading = a_reading(proposal=a_proposal(DOUBT))

    response = desk.post(reverse("plate-aside", args=[reading.pk]))

    assert response.url == reverse("plates")
    assert (
        reverse("plate-reading", args=[reading.pk])
        not in desk.get(reverse("plates")).content.decode()
    )
    assert "Set aside by" in page(desk, reading)
