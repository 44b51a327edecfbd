"""Goods without serials: onto the shelf at their cost, and off it at their share of it."""

import uuid
from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction

from parts.days.models import Calendar
from parts.days.services import DayClosedError
from shop.floor.domain.goods import cost_of_some
from shop.floor.models import Goods, GoodsOut
from shop.floor.services import (
    FloorError,
    Heap,
    Leaving,
    add_spot,
    close_spot,
    put_goods,
    shelve_goods,
    take_goods,
)
from tests.factories.shop import CustomerFactory
from tests.factories.units import MORNING, TODAY, PersonFactory

KEY = uuid.UUID("7d444840-9dc0-11d1-b245-5ffdce74fad2")


@pytest.mark.parametrize(
    ("quantity", "left", "cost", "share"),
    [
        ("300", "900", "100.00", "33.33"),
        ("600", "600", "66.67", "66.67"),
        ("1", "3", "0.05", "0.02"),
    ],
)
def test_some_of_the_goods_carry_their_share_of_the_cost(quantity, left, cost, share):
    found = cost_of_some(Decimal(quantity), Decimal(left), Decimal(cost))
    assert found == Decimal(share)


@pytest.mark.parametrize("quantity", ["0", "-1", "4"])
def test_there_is_no_cost_of_what_is_not_there(quantity):
    with pytest.raises(ValueError, match="not there"):
        cost_of_some(Decimal(quantity), Decimal(3), Decimal(10))


def shelved(cost="100.00", haul="0.00", **changes):
    heap = Heap("weight plates", "lb", Decimal(900), Decimal(cost), Decimal(haul))
    said = {"document": "B00001", "seller": CustomerFactory(), "on": TODAY, "key": "one"}
    return shelve_goods(heap=heap, **said | {"by": PersonFactory(), "at": MORNING} | changes)


def take(goods, quantity="300", reason="sold", note="", **changes):
    leaving = Leaving(Decimal(quantity), reason, "R00001", note)
    said = {"on": TODAY, "key": uuid.uuid4(), "by": PersonFactory(), "at": MORNING}
    return take_goods(goods=goods, leaving=leaving, **said | changes)


@pytest.mark.django_db
def test_the_same_key_shelves_goods_once():
    assert shelved() == shelved()
    assert Goods.objects.get().number == "L00001"


@pytest.mark.django_db
def test_what_left_piece_by_piece_cost_what_the_whole_did():
    goods = shelved()
    costs = [take(goods).cost for _third in range(3)]
    assert costs == [Decimal("33.33"), Decimal("33.34"), Decimal("33.33")]
    assert not Goods.objects.here().exists()


@pytest.mark.django_db
def test_the_same_key_takes_once_and_more_than_is_left_is_refused():
    goods = shelved()
    assert take(goods, key=KEY) == take(goods, key=KEY)
    with pytest.raises(FloorError, match="Left of weight plates: 600 lb"):
        take(goods, "601")
    assert GoodsOut.objects.count() == 1


@pytest.mark.django_db
def test_what_is_lost_says_why_and_nothing_leaves_before_it_came():
    goods = shelved()
    with pytest.raises(FloorError, match="what became"):
        take(goods, reason="lost")
    with pytest.raises(FloorError, match="Nothing leaves before"):
        take(goods, on=TODAY - timedelta(days=1))
    assert take(goods, reason="lost", note="cracked").note == "cracked"


@pytest.mark.django_db
def test_goods_stand_on_a_spot_in_use():
    spot = add_spot(name="Back wall", sort="bay")
    assert put_goods(goods=shelved(), spot=spot).spot == spot
    close_spot(spot=add_spot(name="Old bay", sort="bay"))
    with pytest.raises(FloorError, match="no longer in use"):
        put_goods(goods=shelved(), spot=type(spot).objects.get(name="Old bay"))


@pytest.mark.django_db
def test_goods_neither_come_nor_go_in_closed_days():
    goods = shelved()
    Calendar.objects.update(closed_through=TODAY)
    with pytest.raises(DayClosedError):
        take(goods)
    with pytest.raises(DayClosedError):
        shelved(key="two")


@pytest.mark.django_db
@pytest.mark.parametrize("changes", [{"cost": 1}, {"quantity": 5}, {"document": "B00002"}])
def test_the_database_keeps_goods_as_they_came(changes):
    shelved()
    with pytest.raises(IntegrityError), transaction.atomic():
        Goods.objects.update(**changes)
