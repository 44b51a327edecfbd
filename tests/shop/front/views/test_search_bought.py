"""What was bought by the lump is found by its numbers."""

import uuid
from decimal import Decimal

import pytest
from django.urls import reverse

from shop.floor.services import Heap, shelve_goods
from shop.lots.services import pay_lot
from shop.till.services import Bought, Paying, hold_back, pay_seller
from tests.factories.shop import CustomerFactory, ShopProfileFactory
from tests.factories.units import TODAY, PersonFactory
from tests.shop.lots.lots import act, an_agreed_lot

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner(client):
    ShopProfileFactory()
    client.force_login(PersonFactory(seats=["owner"]))
    return client


def opened(client, number):
    return client.get(reverse("search"), {"q": number})["Location"]


def test_a_lot_its_payment_and_its_goods_open_by_their_numbers(owner):
    lot = pay_lot(lot=an_agreed_lot(), on=TODAY, **act())
    heap = Heap("weight plates", "lb", Decimal(9), Decimal(90))
    said = {"document": lot.document, "seller": lot.seller, "key": "plates"}
    goods = shelve_goods(heap=heap, on=TODAY, **said, **act())
    assert opened(owner, "B00001") == lot.get_absolute_url()
    assert opened(owner, "V1") == reverse("lot-money", args=[lot.pk])
    assert opened(owner, goods.number) == reverse("goods", args=[goods.number])


def test_what_was_paid_for_one_machine_opens_what_is_owed(owner):
    bought = Bought(CustomerFactory(), "B00007")
    said = {"amount": Decimal(5), "on": TODAY}
    pay_seller(bought=bought, paying=Paying(), key=uuid.uuid4(), **said, **act())
    hold_back(bought=bought, reason="a lien", key=uuid.uuid4(), **said, **act())
    assert {opened(owner, "V00001"), opened(owner, "H00001")} == {reverse("sellers-owed")}


def test_who_may_not_see_the_money_finds_no_payment(client):
    ShopProfileFactory()
    client.force_login(PersonFactory(seats=["technician"]))
    pay_lot(lot=an_agreed_lot(), on=TODAY, **act())
    found = client.get(reverse("search"), {"q": "V00001"})
    assert (found.status_code, "paid to" in found.text) == (200, False)
