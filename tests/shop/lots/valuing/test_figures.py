"""Figures that the owner sets for every lot."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import DatabaseError, transaction
from django.urls import reverse

from shop.lots.models import ShopFigure
from shop.lots.selectors.bids import bid_page
from shop.lots.selectors.figures import sheet_of, shop_figures, terms_of, values_of
from shop.lots.services.errors import LotError
from shop.lots.services.figures import set_shop_figures
from tests.factories.shop import ShopProfileFactory
from tests.factories.units import MORNING, PersonFactory
from tests.shop.lots.valuing.building import lot, treadmill, valued
from tests.shop.lots.valuing.test_pages import form

pytestmark = pytest.mark.django_db
SHEET = "lots-assumptions"


def put(at=MORNING, why="", **figures):
    said = {key: None if one is None else Decimal(one) for key, one in figures.items()}
    return set_shop_figures(figures=said, why=why, by=PersonFactory(), at=at)


@pytest.fixture
def owner(client):
    ShopProfileFactory()
    client.force_login(PersonFactory(seats=["owner"]))
    return client


def test_the_newest_figure_counts_and_what_is_as_it_was_is_left_alone():
    put(storage="15", bench_rate="40")
    assert put(at=MORNING + timedelta(days=1), storage="18", bench_rate="40")[0].key == "storage"
    assert values_of(shop_figures()) == {"storage": 18.0, "bench_rate": 40.0}
    assert values_of(shop_figures(MORNING)) == {"storage": 15.0, "bench_rate": 40.0}


def test_an_empty_figure_is_the_stated_one_again():
    put(storage="15", margin="0.40")
    put(at=MORNING + timedelta(days=1), storage=None, margin=None)
    assert shop_figures() == {}
    assert terms_of({}).margin == 0.35


def test_what_does_not_go_together_is_refused_whole():
    put(lot_weight="0.8")
    with pytest.raises(LotError, match="do not go together"):
        put(machine_weight="0.7", storage="15")
    with pytest.raises(LotError, match="no assumption that we know"):
        put(moon="1")
    assert list(shop_figures()) == ["lot_weight"]


def test_figures_only_grow():
    put(storage="15")
    with pytest.raises(DatabaseError), transaction.atomic():
        ShopFigure.objects.update(value=1)
    with pytest.raises(DatabaseError), transaction.atomic():
        ShopFigure.objects.all().delete()


def test_a_lot_is_reckoned_with_the_shops_figures_and_its_own_upon_them():
    put(storage="30", bench_rate="50", why="the new lease")
    club = lot({"model": treadmill(), "count": 2})
    row = valued(club, typed={"bench_rate": 45.0})
    used = row.inputs["assumptions"]
    assert (used["storage"], used["bench_rate"]) == (30.0, 45.0)
    sheet = {one.stated.key: one for one in bid_page(row.pk)[1].figures}
    assert (sheet["storage"].value, sheet["storage"].typed) == (30.0, False)
    assert sheet["storage"].shop.why == "the new lease"
    assert (sheet["bench_rate"].value, sheet["bench_rate"].typed) == (45.0, True)
    assert sheet["money"].shop is None


def test_a_bid_keeps_the_figures_it_was_reckoned_with():
    club = lot({"model": treadmill()})
    row = valued(club)
    put(at=row.wanted_at + timedelta(hours=1), storage="30")
    sheet = {one.stated.key: one for one in bid_page(row.pk)[1].figures}
    assert (sheet["storage"].value, sheet["storage"].shop) == (12.0, None)


def test_the_sheet_of_a_lot_begins_with_the_shops_figures(owner):
    put(storage="30", margin="0.4")
    club = lot({"model": treadmill()})
    page = owner.get(reverse("lot-worth", args=[club.pk]))
    sheet = page.context["form"]
    assert sheet["margin"].value() == "40"
    assert {one.stated.key: one.value for one, _ in sheet.sheet}["storage"] == 30.0
    owner.post(reverse("lot-worth", args=[club.pk]), form(figure_storage="30"))
    assert club.valuations.get().typed == {}


def test_the_owner_sets_figures_for_every_lot_and_sees_where_each_comes_from(owner):
    sent = {"margin": "40", "odds": "", "figure_storage": "15.5", "why": "the new lease"}
    answer = owner.post(reverse(SHEET), sent, follow=True)
    assert "2 figures are set for every lot" in answer.text
    assert "the new lease" in answer.text
    assert {key: row.value for key, row in shop_figures().items()} == {
        "margin": Decimal("0.40"),
        "storage": Decimal("15.5"),
    }
    again = owner.post(reverse(SHEET), sent, follow=True)
    assert "Nothing has changed" in again.text
    assert ShopFigure.objects.count() == 2


@pytest.mark.parametrize(
    "wrong",
    [
        {"figure_lot_weight": "7"},
        {"figure_storage": "abc"},
        {"odds": "100"},
        {"figure_lot_weight": "0.8", "figure_machine_weight": "0.8"},
    ],
)
def test_a_wrong_figure_is_told_at_its_place_and_nothing_is_set(owner, wrong):
    answer = owner.post(reverse(SHEET), wrong)
    assert answer.status_code == 422
    assert answer.context["form"].errors
    assert not ShopFigure.objects.exists()


def test_only_the_owner_opens_the_sheet(client):
    ShopProfileFactory()
    client.force_login(PersonFactory(seats=["technician"]))
    assert client.get(reverse(SHEET)).status_code == 403


def test_the_sheet_asks_few_queries(owner, django_assert_max_num_queries):
    put(**{one.stated.key: "0.25" for one in sheet_of({}, {}) if one.stated.key != "bench_hours"})
    with django_assert_max_num_queries(12):
        owner.get(reverse(SHEET))
