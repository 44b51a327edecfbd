"""Goods without serials at the truck: counted, short, missing, and what comes off for them."""

from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction

from shop.lots.models import GoodsFound, Lot
from shop.lots.selectors.money import open_balance, price_after
from shop.lots.selectors.shares import listed_parts, split_of
from shop.lots.services import (
    Answer,
    Count,
    LotError,
    answer_matter,
    close_loading,
    count_goods,
    pay_lot,
)
from tests.factories.units import MORNING, TODAY
from tests.shop.lots.lots import MATTERS, act
from tests.shop.lots.valuing.building import goods, lot, treadmill, valued, walked

pytestmark = pytest.mark.django_db


def agreed(*more, price="1000.00", value=True):
    """A lot of a treadmill and 900 lb of plates, its price agreed, its questions answered."""
    made = lot({"model": treadmill()}, goods(), *more)
    machine = walked(made.lines.get(sort="machine"), 1)
    machine.fate, machine.scanned_at, machine.scanned_by = "loaded", MORNING, machine.looked_by
    machine.save()
    if value:
        valued(made)
    Lot.objects.filter(pk=made.pk).update(state="agreed", agreed=Decimal(price))
    for matter in MATTERS:
        answer_matter(lot=made, answer=Answer(matter, "clear", "Dana Reed"), **act())
    made.refresh_from_db()
    return made


def plates(made):
    return made.lines.get(goods="plates")


def count(made, found, off=None, line=None):
    said = Count(Decimal(found), None if off is None else Decimal(off))
    return count_goods(lot=made, counts={(line or plates(made)).pk: said}, **act())


def part(made):
    return next(one.share for one in listed_parts(made) if one.goods)


def test_the_parts_of_the_price_add_up_to_it():
    made = agreed(price="1000.01")
    assert sum(one.share for one in listed_parts(made)) == Decimal("1000.01")


def test_a_lot_that_nobody_valued_has_no_parts():
    assert listed_parts(agreed(value=False)) == []


@pytest.mark.parametrize(
    ("found", "state", "of_the_part"),
    [("900", "there", 0), ("600", "short", 1 / 3), ("0", "missing", 1), ("950", "more", 0)],
)
def test_what_is_short_comes_off_in_proportion_to_the_line_s_part(found, state, of_the_part):
    made = agreed()
    (seen,) = count(made, found)
    assert seen.state == state
    assert float(seen.adjusted) == pytest.approx(float(part(made)) * of_the_part, abs=0.005)
    assert price_after(made) == 1000 - seen.adjusted


def test_another_amount_is_taken_where_it_is_written():
    made = agreed()
    assert count(made, "600", "12.50")[0].adjusted == Decimal("12.50")
    assert count(made, "600", "0")[0].adjusted == 0
    assert price_after(made) == 1000


def test_counted_again_it_is_corrected_and_what_stands_is_left_alone():
    made = agreed()
    count(made, "600", "12.50")
    assert count(made, "600") == []
    assert GoodsFound.objects.get().adjusted == Decimal("12.50")
    count(made, "900")
    assert (GoodsFound.objects.get().adjusted, price_after(made)) == (0, 1000)


def test_after_the_payment_what_is_short_is_owed_to_us():
    made = pay_lot(lot=agreed(), on=TODAY, **act())
    (seen,) = count(made, "0")
    assert open_balance(made) == -seen.adjusted < 0


@pytest.mark.parametrize("state", ["listed", "loaded", "taken-in", "walked-away"])
def test_goods_are_counted_when_machines_are_scanned_and_at_no_other_time(state):
    made = agreed()
    Lot.objects.filter(pk=made.pk).update(state=state)
    with pytest.raises(LotError, match="once a price is agreed"):
        count(made, "600")
    assert not GoodsFound.objects.exists()


@pytest.mark.parametrize(
    ("found", "off", "field", "told"),
    [
        ("-1", None, "found", "not below nothing"),
        ("600", "-1", "adjusted", "not below nothing"),
        ("900", "5", "adjusted", "Nothing of it is short"),
        ("600", "1000.01", "adjusted", "More would come off"),
    ],
)
def test_a_count_that_cannot_be_is_refused_at_its_field(found, off, field, told):
    made = agreed()
    with pytest.raises(LotError, match=told) as refused:
        count(made, found, off)
    assert refused.value.field == f"{field}-{plates(made).pk}"
    assert not GoodsFound.objects.exists()


def test_pieces_are_counted_whole():
    bench = {"sort": "goods", "goods": "benches", "measure": "piece", "quantity": Decimal(4)}
    made = agreed(bench)
    line = made.lines.get(goods="benches")
    with pytest.raises(LotError, match="counted whole"):
        count(made, "3.5", line=line)
    assert count(made, "3", line=line)[0].state == "short"


def test_where_nobody_valued_the_lot_the_amount_is_asked_for():
    made = agreed(value=False)
    with pytest.raises(LotError, match="Write what comes off"):
        count(made, "600")
    assert count(made, "600", "40")[0].adjusted == 40
    assert count(made, "900")[0].adjusted == 0


def test_the_truck_leaves_once_goods_are_counted():
    made = pay_lot(lot=agreed(), on=TODAY, **act())
    with pytest.raises(LotError, match="1 line of goods was not counted"):
        close_loading(lot=made, on=TODAY, **act())
    count(made, "0")
    assert close_loading(lot=made, on=TODAY, **act()).state == Lot.State.LOADED


def test_only_what_was_found_bears_the_price():
    made = agreed()
    whole = {bool(one.goods): one.value for one in split_of(made, Decimal(1000), Decimal(0))}
    count(made, "600")
    some = {bool(one.goods): one.value for one in split_of(made, Decimal(1000), Decimal(0))}
    assert some == {False: whole[False], True: whole[True] * 600 / 900}
    count(made, "0")
    (machine,) = split_of(made, price_after(made), Decimal(0))
    assert (machine.goods, machine.share) == (None, price_after(made))


@pytest.mark.parametrize("wrong", [{"found": -1}, {"adjusted": -1}, {"found": 900, "adjusted": 5}])
def test_the_database_refuses_what_cannot_be(wrong):
    made = agreed()
    count(made, "600")
    with pytest.raises(IntegrityError), transaction.atomic():
        GoodsFound.objects.update(**wrong)
