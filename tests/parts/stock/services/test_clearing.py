import uuid
from datetime import timedelta
from decimal import Decimal

import pytest

from parts.stock.models import StockMove
from parts.stock.selectors import bins_of, newest_move_id
from parts.stock.services import NotEnoughStockError, StockError
from tests.factories.parts import BinFactory
from tests.factories.units import TODAY
from tests.parts.stock.keeper import Keeper

pytestmark = pytest.mark.django_db


@pytest.fixture
def keeper():
    keeper = Keeper()
    keeper.receive("5", "10")
    return keeper


def lying(keeper):
    return {place.bin.name: place.on_hand for place in bins_of(keeper.part)}


def test_what_is_scrapped_leaves_at_its_cost_and_says_why(keeper):
    move = keeper.scrap("2", note="cracked  in the parcel")
    assert (move.quantity, move.cost, move.reason) == (Decimal(-2), Decimal(-20), "scrapped")
    assert (move.note, move.document) == ("cracked in the parcel", "W00001")
    assert keeper.on_hand == Decimal(3)


def test_what_is_scrapped_needs_a_reason(keeper):
    with pytest.raises(StockError, match="Say why") as refusal:
        keeper.scrap("1", note="  ")
    assert refusal.value.field == "note"
    assert keeper.on_hand == Decimal(5)


def test_no_more_is_scrapped_than_lies_in_the_bin(keeper):
    keeper.receive("9", place=BinFactory(name="B2"))
    with pytest.raises(NotEnoughStockError, match="No bin holds 6"):
        keeper.scrap("6")


def test_the_same_scrapping_sent_twice_scraps_once(keeper):
    key = uuid.uuid4()
    first = keeper.scrap("2", key=key)
    assert keeper.scrap("2", key=key) == first
    assert keeper.on_hand == Decimal(3)


def test_what_was_scrapped_by_mistake_can_be_put_back(keeper):
    keeper.give_back(keeper.scrap("2"))
    assert keeper.layers == [(Decimal(5), Decimal(50))]


def test_pieces_carried_to_another_bin_keep_their_cost(keeper):
    before = keeper.layers
    left = keeper.carry("2", BinFactory(name="B2"))
    assert lying(keeper) == {"A1": Decimal(3), "B2": Decimal(2)}
    assert keeper.layers == before
    pair = StockMove.objects.filter(document=left.document).order_by("id")
    assert list(pair.values_list("quantity", "cost", "reason")) == [
        (Decimal(-2), Decimal(0), "moved"),
        (Decimal(2), Decimal(0), "moved"),
    ]


def test_carried_pieces_are_taken_from_their_new_bin(keeper):
    place = BinFactory(name="B2")
    keeper.carry("5", place)
    assert keeper.issue("1").bin == place


def test_no_more_is_carried_than_lies_there(keeper):
    with pytest.raises(NotEnoughStockError, match=r"In A1 lie 5 of .*, not 6") as refusal:
        keeper.carry("6", BinFactory(name="B2"))
    assert refusal.value.field == "quantity"
    assert lying(keeper) == {"A1": Decimal(5)}


def test_from_a_bin_where_it_never_lay_nothing_is_carried(keeper):
    with pytest.raises(NotEnoughStockError, match="In B2 lie 0 of"):
        keeper.carry("1", keeper.place, place=BinFactory(name="B2"))


def test_nothing_is_carried_to_the_bin_where_it_lies(keeper):
    with pytest.raises(StockError, match="lies in A1 already") as refusal:
        keeper.carry("1", keeper.place)
    assert refusal.value.field == "to_bin"


@pytest.mark.parametrize("quantity", ["0", "-1"])
def test_nothing_or_less_is_not_carried(keeper, quantity):
    with pytest.raises(StockError, match="more than nothing"):
        keeper.carry(quantity, BinFactory(name="B2"))


def test_the_same_carrying_sent_twice_carries_once(keeper):
    key, place = uuid.uuid4(), BinFactory(name="B2")
    first = keeper.carry("2", place, key=key)
    assert keeper.carry("2", place, key=key) == first
    assert lying(keeper) == {"A1": Decimal(3), "B2": Decimal(2)}


def test_a_carrying_is_not_put_back(keeper):
    left = keeper.carry("2", BinFactory(name="B2"))
    with pytest.raises(StockError, match="Only what was taken off the shelf"):
        keeper.give_back(left)


def test_a_carrying_spoils_a_count_that_began_before(keeper):
    seen = newest_move_id(keeper.part)
    keeper.carry("2", BinFactory(name="B2"))
    with pytest.raises(StockError, match="moved to another bin, T00001"):
        keeper.count("5", seen=seen)


@pytest.mark.parametrize("deed", ["scrap", "carry"])
def test_a_day_to_come_is_refused(keeper, deed):
    more = [BinFactory(name="B2")] if deed == "carry" else []
    with pytest.raises(StockError, match="has not come yet") as refusal:
        getattr(keeper, deed)("1", *more, on=TODAY + timedelta(days=1))
    assert refusal.value.field == "on"
