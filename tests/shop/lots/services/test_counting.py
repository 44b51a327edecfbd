"""Counting on the seller's floor, by whoever walks it."""

from decimal import Decimal

import pytest
from django.urls import reverse

from shop.lots.models import LotLine, LotMachine
from shop.lots.services import Facts, Look, LotError, record_look
from shop.lots.services.counting import count_lines
from tests.factories.shop import ShopProfileFactory
from tests.factories.units import PersonFactory
from tests.shop.lots.lots import a_listed_lot, a_lot, act, an_agreed_lot, models

pytestmark = pytest.mark.django_db


def facts(count=3, serials=("ML100200", "ML100201", "ML100202")):
    plates = Facts("plates", goods="plates", measure="lb", quantity=Decimal(900))
    return Facts("HG", model=models()[0], count=count, serials=serials), plates


def count(lot, **counted):
    lines = {"machines": lot.lines.get(sort="machine"), "goods": lot.lines.get(sort="goods")}
    counts = {lines[name].pk: Decimal(value) for name, value in counted.items()}
    return count_lines(lot=lot, counts=counts, **act())


def places(lot):
    rows = LotMachine.objects.filter(line__lot=lot).order_by("place")
    return list(rows.values_list("place", "serial"))


def test_more_than_listed_make_more_machines_and_goods_have_their_measure():
    lot = a_listed_lot(*facts())
    assert len(count(lot, machines="4", goods="850.5")) == 2
    assert places(lot)[3] == (4, "")
    assert lot.lines.get(sort="goods").quantity == Decimal("850.5")


def test_fewer_leave_those_that_were_looked_at_and_their_serials():
    lot = a_listed_lot(*facts())
    third = LotMachine.objects.get(line__lot=lot, place=3)
    record_look(machine=third, look=Look("runs"), **act())
    count(lot, machines="2")
    assert places(lot) == [(1, "ML100200"), (2, "ML100202")]
    assert lot.lines.get(sort="machine").serials == ["ML100200", "ML100202"]


def test_no_fewer_than_were_looked_at():
    lot = a_listed_lot(*facts())
    for machine in LotMachine.objects.filter(line__lot=lot, place__lt=3):
        record_look(machine=machine, look=Look("runs"), **act())
    with pytest.raises(LotError, match="2 of its machines were looked at"):
        count(lot, machines="1", goods="5")
    assert lot.lines.get(sort="goods").quantity == 900
    assert len(places(lot)) == 3


def test_nothing_there_leaves_the_line_out_and_what_is_as_it_was_is_left_alone():
    lot = a_listed_lot(*facts())
    before = lot.lines.get(sort="machine").settled_by
    assert [line.sort for line in count(lot, machines="3", goods="0")] == ["goods"]
    assert lot.lines.get(sort="goods").state == LotLine.State.DROPPED
    assert lot.lines.get(sort="machine").settled_by == before


@pytest.mark.parametrize("counted", ["-1", "2.5"])
def test_machines_are_counted_whole_and_not_below_nothing(counted):
    with pytest.raises(LotError):
        count(a_listed_lot(*facts()), machines=counted)


def test_the_list_is_counted_only_between_its_confirmation_and_the_price():
    for lot in (a_lot(), an_agreed_lot(*facts())):
        with pytest.raises(LotError):
            count_lines(lot=lot, counts={}, **act())


@pytest.fixture
def walker(client):
    """A technician, signed in."""
    ShopProfileFactory()
    client.force_login(PersonFactory(seats=["technician"]))
    return client


def test_the_technician_counts_while_he_walks(walker):
    lot = a_listed_lot(*facts())
    assert (
        reverse("lot-count", args=[lot.pk]) in walker.get(reverse("lot-walk", args=[lot.pk])).text
    )
    line = lot.lines.get(sort="machine")
    here = reverse("lot-count", args=[lot.pk])
    assert f"line-{line.pk}" in walker.get(here).text
    answer = walker.post(here, {f"line-{line.pk}": "5"}, follow=True)
    assert "1 line is counted anew" in answer.text
    assert len(places(lot)) == 5
    assert "as they were" in walker.post(here, {f"line-{line.pk}": "5"}, follow=True).text


def test_a_wrong_count_is_told_and_what_was_typed_stays(walker):
    lot = a_listed_lot(*facts())
    line = lot.lines.get(sort="machine")
    answer = walker.post(reverse("lot-count", args=[lot.pk]), {f"line-{line.pk}": "two"})
    assert answer.status_code == 422
    assert 'value="two"' in answer.text


def test_the_technician_adds_what_stands_on_no_list_and_comes_back_to_the_walk(walker):
    lot = a_listed_lot(*facts())
    said = {"text": "a bench", "goods": "benches", "measure": "piece", "quantity": "2"}
    here = reverse("lot-line-add", args=[lot.pk])
    answer = walker.post(f"{here}?walk=1", {**said, "count": "1"})
    assert answer.url == reverse("lot-walk", args=[lot.pk])
    assert lot.lines.filter(goods="benches", quantity=2).exists()


def test_counting_asks_no_more_queries_for_more_lines(walker, django_assert_max_num_queries):
    more = [
        Facts(f"kind {n}", goods="bars", measure="piece", quantity=Decimal(n)) for n in (1, 2, 3)
    ]
    lot = a_listed_lot(*facts(), *more)
    with django_assert_max_num_queries(12):
        walker.get(reverse("lot-count", args=[lot.pk]))
