from decimal import Decimal

import pytest

from parts.stock.selectors import (
    newest_move_id,
    next_unit_costs,
    on_hand,
    parts_on_shelf,
    shelf_worth,
)
from parts.stock.services import issue_stock, receive_stock
from tests.factories.parts import BinFactory, PartFactory
from tests.factories.units import MORNING, TODAY, PersonFactory

pytestmark = pytest.mark.django_db
ENTRY = {"on": TODAY, "document": "D00001", "at": MORNING}


def receive(part, quantity, cost, place="A1"):
    place = BinFactory(name=place)
    return receive_stock(
        part=part,
        bin=place,
        quantity=Decimal(quantity),
        unit_cost=Decimal(cost),
        by=PersonFactory(),
        **ENTRY,
    )


def issue(part, quantity):
    return issue_stock(
        part=part, quantity=Decimal(quantity), reason="sold", by=PersonFactory(), **ENTRY
    )


def test_on_hand_adds_the_bins_and_is_nought_for_what_never_came():
    here, never = PartFactory(), PartFactory()
    receive(here, "2", "1")
    receive(here, "3.5", "1", place="B2")
    assert on_hand([here, never]) == {here.pk: Decimal("5.5"), never.pk: Decimal(0)}


def test_the_next_piece_costs_what_the_oldest_layer_left_did():
    part = PartFactory()
    receive(part, "1", "10")
    receive(part, "1", "12.345678")
    assert next_unit_costs([part]) == {part.pk: Decimal(10)}
    issue(part, "1")
    assert next_unit_costs([part]) == {part.pk: Decimal("12.345678")}
    issue(part, "1")
    assert next_unit_costs([part]) == {}


def test_the_shelf_shows_what_lies_where_and_what_it_cost():
    part, gone = PartFactory(), PartFactory()
    receive(part, "2", "1.50", place="B2")
    receive(part, "1", "2.00")
    receive(gone, "1", "5")
    issue(gone, "1")
    (row,) = parts_on_shelf()
    assert (row, row.on_hand, row.worth) == (part, Decimal(3), Decimal("5.00"))
    assert [(place.bin.name, place.on_hand) for place in row.places] == [
        ("A1", Decimal(1)),
        ("B2", Decimal(2)),
    ]
    assert shelf_worth() == Decimal("5.00")


def test_an_empty_shelf_is_worth_nothing():
    assert shelf_worth() == Decimal(0)


def test_the_newest_move_is_nought_before_the_first():
    part = PartFactory()
    assert newest_move_id(part) == 0
    assert newest_move_id(part) < receive(part, "1", "1").pk == newest_move_id(part)


@pytest.mark.parametrize("ask", [on_hand, next_unit_costs])
def test_many_parts_need_one_query(ask, django_assert_num_queries):
    parts = [PartFactory() for _ in range(8)]
    for part in parts:
        receive(part, "1", "1")
    with django_assert_num_queries(1):
        assert len(ask(parts)) == 8
