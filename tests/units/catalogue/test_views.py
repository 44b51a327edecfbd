import pytest
from django.urls import reverse

from tests.factories.pictures import picture, upload
from tests.factories.units import (
    KindFactory,
    MachineModelFactory,
    MakerFactory,
    PersonFactory,
    UnitFactory,
)
from units.catalogue.models import UnitPhoto
from units.catalogue.views import kept_sentence

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner(client):
    client.force_login(PersonFactory(seats=["owner"]))
    return client


@pytest.fixture
def desk(client):
    client.force_login(PersonFactory(seats=["front desk"]))
    return client


@pytest.mark.parametrize("field", ["q", "maker"])
def test_makers_are_suggested_as_options(desk, field):
    MakerFactory(name="Corvane")
    response = desk.get(reverse("suggest-makers"), {field: "cor"})
    assert response.content.decode().strip() == '<option value="Corvane"></option>'


@pytest.mark.parametrize("field", ["q", "number"])
def test_models_are_suggested_with_maker_and_kind(desk, field):
    MachineModelFactory(number="TM-9")
    response = desk.get(reverse("suggest-models"), {field: "tm", "maker": "Corvane"})
    assert response.content.decode().strip() == ('<option value="TM-9">Corvane, treadmill</option>')


def test_suggested_name_cannot_carry_markup(desk):
    MakerFactory(name='"><script>', key="SCRIPT")
    assert b"<script>" not in desk.get(reverse("suggest-makers"), {"q": "script"}).content


def facts(model, **changes):
    return {"number": model.number, "kind": model.kind_id, "confirmed": "on"} | changes


def test_model_page_shows_what_is_known(owner):
    model = MachineModelFactory(number="TM-9", name="Glide")
    response = owner.get(reverse("model-edit", args=[model.pk]))
    assert response.status_code == 200
    assert b'value="Glide"' in response.content


def test_saving_a_model_leads_to_its_page(owner):
    model = MachineModelFactory(confirmed=False)
    response = owner.post(reverse("model-edit", args=[model.pk]), facts(model, volts="120"))
    assert response["Location"] == reverse("model", args=[model.pk])
    model.refresh_from_db()
    assert (model.volts, model.confirmed) == (120, True)


def test_number_of_another_model_gets_a_sentence_at_the_number(owner):
    MachineModelFactory(number="TM-9")
    model = MachineModelFactory(number="TM-10")
    response = owner.post(reverse("model-edit", args=[model.pk]), facts(model, number="tm9"))
    assert response.status_code == 422
    assert "Merge the two instead" in response.context["form"].errors["number"][0]
    assert "What we know of Corvane TM-10" in response.content.decode()


def test_front_desk_does_not_edit_models(desk):
    model = MachineModelFactory()
    assert desk.get(reverse("model-edit", args=[model.pk])).status_code == 403
    assert desk.post(reverse("model-edit", args=[model.pk]), facts(model)).status_code == 403


def test_merge_first_asks_which_model_stays(owner):
    old = MachineModelFactory()
    other = MachineModelFactory(number="TM-9")
    response = owner.get(reverse("model-merge", args=[old.pk]))
    assert response.status_code == 200
    assert f'<option value="{other.pk}">Corvane TM-9</option>' in response.content.decode()
    assert "cannot be taken back" not in response.content.decode()


def test_merge_shows_what_it_will_move_before_the_yes(owner):
    old, stays = MachineModelFactory(), MachineModelFactory(number="TM-9")
    UnitFactory.create_batch(2, model=old)
    response = owner.get(reverse("model-merge", args=[old.pk]), {"into": stays.pk})
    assert "2 machines become a Corvane TM-9" in response.content.decode()
    old.refresh_from_db()
    assert old.merged_into is None


def test_yes_merges_and_leads_to_the_model_that_stayed(owner):
    old, stays = MachineModelFactory(), MachineModelFactory()
    response = owner.post(reverse("model-merge", args=[old.pk]), {"into": stays.pk})
    assert response["Location"] == reverse("model", args=[stays.pk])
    old.refresh_from_db()
    assert old.merged_into == stays


def test_merging_twice_gets_a_sentence(owner):
    old, stays = MachineModelFactory(), MachineModelFactory()
    owner.post(reverse("model-merge", args=[old.pk]), {"into": stays.pk})
    response = owner.post(reverse("model-merge", args=[old.pk]), {"into": stays.pk})
    assert response.status_code == 422
    assert "was merged into" in response.content.decode()


@pytest.mark.parametrize("into", ["", "0", "x"])
def test_merge_into_nothing_gets_a_sentence(owner, into):
    old = MachineModelFactory()
    response = owner.post(reverse("model-merge", args=[old.pk]), {"into": into})
    assert response.status_code == 422
    assert response.context["form"].errors["into"]


def test_technician_does_not_merge(client):
    client.force_login(PersonFactory(seats=["technician"]))
    old, stays = MachineModelFactory(), MachineModelFactory()
    response = client.post(reverse("model-merge", args=[old.pk]), {"into": stays.pk})
    assert response.status_code == 403
    old.refresh_from_db()
    assert old.merged_into is None


def test_merge_page_does_not_grow_with_models(owner, django_assert_max_num_queries):
    old = MachineModelFactory()
    for name in ("Holmgate", "Kestrow", "Pellworth"):
        MachineModelFactory.create_batch(4, maker=MakerFactory(name=name), kind=old.kind)
    with django_assert_max_num_queries(12):
        owner.get(reverse("model-merge", args=[old.pk]))


def test_pictures_are_kept_and_lead_to_the_machine(desk):
    unit = UnitFactory()
    sent = {"shows": "sale", "pictures": [upload(), upload(picture(colour="red"))]}
    response = desk.post(reverse("photo-add", args=[unit.pk]), sent)
    assert response["Location"] == reverse("machine", args=[unit.pk])
    assert unit.photos.filter(shows="sale").count() == 2


def test_same_pictures_sent_twice_are_kept_once(desk):
    unit = UnitFactory()
    for _ in range(2):
        desk.post(reverse("photo-add", args=[unit.pk]), {"shows": "sale", "pictures": [upload()]})
    assert UnitPhoto.objects.count() == 1


@pytest.mark.parametrize(
    ("sent", "field"),
    [
        ({"shows": "sale"}, "pictures"),
        ({"shows": "sale", "pictures": [upload(b"text", name="a.txt")]}, "pictures"),
        ({"shows": "sale", "pictures": [upload(picture(size=(200, 200))[:-30])]}, "pictures"),
        ({"pictures": [upload()]}, "shows"),
        ({"shows": "ghost", "pictures": [upload()]}, "shows"),
    ],
)
def test_wrong_pictures_get_a_sentence_at_the_field(desk, sent, field):
    unit = UnitFactory()
    response = desk.post(reverse("photo-add", args=[unit.pk]), sent)
    assert response.status_code == 422
    assert response.context["form"].errors[field]
    assert not unit.photos.exists()


def test_picture_page_shows_the_plate_in_few_queries(desk, django_assert_max_num_queries):
    unit = UnitFactory(model__kind=KindFactory(), serial="CV000777")
    with django_assert_max_num_queries(12):
        response = desk.get(reverse("photo-add", args=[unit.pk]))
    assert b"CV000777" in response.content


def test_link_may_say_what_the_pictures_are_for(desk):
    page = desk.get(reverse("photo-add", args=[UnitFactory().pk]), {"shows": "sale"})
    assert page.context["form"]["shows"].value() == "sale"


def test_accountant_adds_no_pictures(client):
    client.force_login(PersonFactory(seats=["accountant"]))
    assert client.get(reverse("photo-add", args=[UnitFactory().pk])).status_code == 403


def test_machine_nobody_knows_is_not_found(desk):
    assert desk.get(reverse("photo-add", args=[999])).status_code == 404


@pytest.mark.parametrize(
    ("count", "sentence"),
    [
        (0, "These pictures are here already."),
        (1, "1 picture is kept."),
        (3, "3 pictures are kept."),
    ],
)
def test_sentence_says_how_many_pictures_are_kept(count, sentence):
    assert kept_sentence(count) == sentence
