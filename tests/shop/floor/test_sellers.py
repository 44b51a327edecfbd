"""What sellers are owed for what we bought, whichever way it came, and paying it."""

import uuid
from decimal import Decimal

import pytest
from django.urls import reverse
from django.utils import timezone

from shop.floor.selectors import owed_for, sellers_owed
from shop.floor.services import FloorError, Heap, add_cost, pay_purchase, shelve_goods
from shop.till.models import SellerPayment
from shop.till.services import Bought, Paying, hold_back
from tests.factories.resale import OwnStayFactory
from tests.factories.shop import CustomerFactory, ShopProfileFactory
from tests.factories.units import MORNING, TODAY, PersonFactory

pytestmark = pytest.mark.django_db
KEY = uuid.UUID("7d444840-9dc0-11d1-b245-5ffdce74fad2")


def act():
    return {"on": TODAY, "by": PersonFactory(), "at": MORNING}


@pytest.fixture
def bought():
    """A machine for 350 and plates for 90, of which 10 are the haul, under one purchase."""
    seller = CustomerFactory(name="Ada Marsh")
    stay = OwnStayFactory(came_from=seller)
    for sort, amount in (("purchase", "350.00"), ("haul", "20.00"), ("parts", "5.00")):
        said = {"sort": sort, "amount": Decimal(amount), "document": "B00001", "key": sort}
        add_cost(stay=stay, **said, **act())
    heap = Heap("weight plates", "lb", Decimal(9), Decimal(90), Decimal(10))
    shelve_goods(heap=heap, document="B00001", seller=seller, key="plates", **act())
    return seller


def pay(amount, document="B00001", **changes):
    said = {"paying": Paying("cash"), "key": uuid.uuid4()} | act() | changes
    return pay_purchase(document=document, amount=Decimal(amount), **said)


def test_price_of_machines_and_goods_is_owed_and_the_haul_is_not(bought):
    (one,) = sellers_owed()
    assert (one.seller, one.price, one.owed, one.bought_on) == (bought, 430, 430, TODAY)


def test_what_is_held_back_is_not_owed_now(bought):
    lot = Bought(bought, "B00001")
    hold_back(bought=lot, amount=Decimal(30), reason="a lien", key=KEY, **act())
    assert owed_for("B00001").owed == 400


def test_a_purchase_is_paid_in_parts_never_more_than_is_owed(bought):
    assert pay("400", key=KEY) == pay("400", key=KEY)
    with pytest.raises(FloorError, match=r"Only \$30.00 is owed"):
        pay("30.01")
    pay("30")
    with pytest.raises(FloorError, match="is paid: nothing is owed"):
        pay("1")
    assert (sellers_owed(), SellerPayment.objects.count()) == ([], 2)


def test_nothing_is_paid_for_what_was_never_bought():
    assert owed_for("B00009") is None
    with pytest.raises(FloorError, match="Nothing was bought"):
        pay("1", "B00009")


@pytest.fixture
def owner(client):
    ShopProfileFactory()
    client.force_login(PersonFactory(seats=["owner"]))
    return client


def test_the_owner_sees_what_is_owed_and_pays_it_once(owner, bought, django_assert_max_num_queries):
    with django_assert_max_num_queries(12):
        assert "$430.00" in owner.get(reverse("sellers-owed")).text
    address = reverse("seller-pay", args=["B00001"])
    said = {"key": KEY, "amount": "430", "method": "cash", "on": timezone.localdate().isoformat()}
    assert "430.00" in owner.get(address).text
    refused = owner.post(address, said | {"amount": "431"})
    assert (refused.status_code, "Pay that much or less" in refused.text) == (422, True)
    assert "V00001 is written down" in owner.post(address, said, follow=True).text
    assert "sent before" in owner.post(address, said, follow=True).text
    assert "Everything that we bought is paid" in owner.get(reverse("sellers-owed")).text


def test_a_purchase_that_is_none_is_not_found(owner):
    assert owner.get(reverse("seller-pay", args=["B00009"])).status_code == 404
