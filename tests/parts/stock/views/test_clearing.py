import uuid
from decimal import Decimal

import pytest
from django.urls import reverse

from parts.stock.models import StockMove
from parts.stock.selectors import bins_of, on_hand
from tests.factories.parts import BinFactory
from tests.parts.stock.keeper import Keeper

pytestmark = pytest.mark.django_db


@pytest.fixture
def part():
    keeper = Keeper()
    keeper.receive("5", "2.50")
    return keeper.part


def said(**more):
    start = {"place": BinFactory().pk, "quantity": "2", "on": "2026-10-06", "key": uuid.uuid4()}
    return start | {"note": "cracked"} | more


def send(client, name, part, **more):
    return client.post(reverse(name, args=[part.pk]), said(**more))


def test_what_is_scrapped_leaves_the_shelf_with_its_reason(bench, part):
    answered = bench.post(reverse("stock-scrap", args=[part.pk]), said(), follow=True)
    assert "W00001: it is scrapped." in answered.text
    assert "cracked" in answered.text
    assert on_hand([part])[part.pk] == Decimal(3)


def test_pressing_twice_scraps_once_and_says_so(bench, part):
    key = uuid.uuid4()
    send(bench, "stock-scrap", part, key=key)
    again = bench.post(reverse("stock-scrap", args=[part.pk]), said(key=key), follow=True)
    assert "This form was sent before" in again.text
    assert StockMove.objects.filter(reason="scrapped").count() == 1


def test_what_is_moved_lies_in_its_new_bin(bench, part):
    assert send(bench, "stock-move", part, to_bin="B2").status_code == 302
    lying = {place.bin.name: place.on_hand for place in bins_of(part)}
    assert lying == {"A1": Decimal(3), "B2": Decimal(2)}


def test_the_form_names_the_bins_of_the_part_alone(bench, part):
    BinFactory(name="Z9")
    form = bench.get(reverse("stock-scrap", args=[part.pk])).context["form"]
    assert [label for _value, label in form.fields["place"].choices] == ["A1"]


@pytest.mark.parametrize(
    ("name", "wrong", "sentence"),
    [
        ("stock-scrap", {"quantity": "6"}, "No bin holds 6"),
        ("stock-scrap", {"quantity": "0"}, "greater than or equal to 0.001"),
        ("stock-scrap", {"quantity": "two"}, "Enter a number."),
        ("stock-scrap", {"note": " "}, "This field is required."),
        ("stock-scrap", {"place": "999999"}, "Select a valid choice"),
        ("stock-scrap", {"on": "2026-10-04"}, "had come and were left"),
        ("stock-scrap", {"on": "2999-01-01"}, "has not come yet"),
        ("stock-scrap", {"key": "x"}, "Open this page again"),
        ("stock-move", {"to_bin": "B2", "quantity": "6"}, "In A1 lie 5"),
        ("stock-move", {"to_bin": "a1"}, "lies in A1 already"),
        ("stock-move", {"to_bin": " "}, "This field is required."),
    ],
)
def test_a_wrong_form_gets_a_sentence_and_moves_nothing(bench, part, name, wrong, sentence):
    page = send(bench, name, part, **wrong)
    assert page.status_code == 422
    assert sentence in page.text
    assert StockMove.objects.count() == 1
    assert bins_of(part)[0].on_hand == Decimal(5)


def test_a_refused_move_adds_no_bin(bench, part):
    send(bench, "stock-move", part, to_bin="B2", quantity="6")
    assert not StockMove.objects.filter(bin__name="B2").exists()
    assert [place.bin.name for place in bins_of(part)] == ["A1"]


@pytest.mark.parametrize("name", ["stock-scrap", "stock-move"])
def test_a_reader_may_neither_scrap_nor_move(reader, part, name):
    assert send(reader, name, part, to_bin="B2").status_code == 403
