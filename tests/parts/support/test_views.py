from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from tests.factories.parts import AnswerFactory, FitFactory, SupplierPriceFactory
from tests.factories.units import KindComponentFactory, MachineModelFactory, PersonFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def model():
    model = MachineModelFactory()
    KindComponentFactory(kind=model.kind, component__name="running belt", wears=True)
    return model


@pytest.fixture
def reader(client):
    client.force_login(PersonFactory(seats=["accountant"]))
    return client


def address(model):
    return reverse("model-parts", args=[model.pk])


def test_each_component_stands_there_with_its_word(reader, model):
    AnswerFactory(model=model, given_on=timezone.localdate())
    page = reader.get(address(model))
    assert "Everything that wears can be had." in page.text
    assert "running belt" in page.text


def test_a_past_day_says_so_and_knows_less(reader, model):
    AnswerFactory(model=model, given_on=timezone.localdate())
    past = timezone.localdate() - timedelta(days=40)
    page = reader.get(address(model), {"on": past.isoformat()})
    assert "This is what was known on" in page.text
    assert "Nobody has asked yet" in page.text


@pytest.mark.parametrize(
    ("day", "sentence"),
    [("2999-01-01", "has not come yet"), ("soon", "Enter a valid date.")],
)
def test_a_day_that_cannot_be_asked_about_gets_a_sentence(reader, model, day, sentence):
    page = reader.get(address(model), {"on": day})
    assert page.status_code == 422
    assert sentence in page.text


def test_by_the_day_of_entry_less_was_known(reader, model):
    today = timezone.localdate()
    AnswerFactory(model=model, given_on=today - timedelta(days=60), recorded_at=timezone.now())
    past = (today - timedelta(days=30)).isoformat()
    assert "can be had." in reader.get(address(model), {"on": past}).text
    page = reader.get(address(model), {"on": past, "entered": "on"})
    assert "Nobody has asked yet" in page.text


def test_a_merged_model_leads_to_the_one_that_stands_for_it(reader, model):
    merged = MachineModelFactory(merged_into=model)
    assert reader.get(address(merged)).headers["Location"] == address(model)


def test_a_model_that_is_not_there_is_not_found(reader):
    assert reader.get(reverse("model-parts", args=[999])).status_code == 404


def test_a_component_of_two_parts_shows_the_word_on_each_side(reader, model):
    place = model.kind.components.get().component
    left, _right = (
        FitFactory(model=model, part__component=place, position=position)
        for position in ("left side", "right side")
    )
    SupplierPriceFactory(part=left.part, given_on=timezone.localdate())
    text = " ".join(reader.get(address(model)).text.split())
    assert "left side: can be had" in text
    assert "right side: not asked" in text
