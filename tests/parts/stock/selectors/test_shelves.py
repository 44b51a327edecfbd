from datetime import timedelta
from decimal import Decimal

import pytest

from parts.stock.selectors import (
    daily_use,
    layers_of,
    moves_of,
    newest_move_id,
    next_unit_costs,
    on_hand,
    parts_on_shelf,
    shelf_worth,
)
from parts.stock.services import issue_stock, receive_stock, return_stock
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


def used(part, quantity, day, reason="used"):
    return issue_stock(
        part=part, quantity=Decimal(quantity), reason=reason, by=PersonFactory(),
        on=day, document="J00001", at=MORNING,
    )  # fmt: skip


def test_daily_use_adds_what_jobs_and_the_counter_took_by_day():
    part, still = PartFactory(), PartFactory()
    receive(part, "20", "1")
    receive(still, "1", "1")
    tomorrow = TODAY + timedelta(days=1)
    for quantity, day, reason in [
        ("2", TODAY, "used"),
        ("1", TODAY, "sold"),
        ("4", tomorrow, "used"),
    ]:
        used(part, quantity, day, reason)
    used(part, "5", TODAY, "scrapped")
    assert daily_use([part, still], TODAY, tomorrow) == {
        part.pk: {TODAY: Decimal(3), tomorrow: Decimal(4)}
    }
    assert daily_use(None, tomorrow, tomorrow) == {part.pk: {tomorrow: Decimal(4)}}


def test_what_was_put_back_was_never_used():
    part = PartFactory()
    receive(part, "2", "1")
    return_stock(move=used(part, "1", TODAY), on=TODAY, by=PersonFactory(), at=MORNING)
    assert daily_use([part], TODAY, TODAY) == {}


def test_the_layers_of_a_part_are_those_with_something_left_the_next_to_go_first():
    part = PartFactory()
    for cost in ("1", "2", "3"):
        receive(part, "1", cost)
    issue(part, "1")
    assert [layer.unit_cost for layer in layers_of(part)] == [Decimal(2), Decimal(3)]


def test_the_ledger_of_a_part_begins_with_its_newest_line():
    part = PartFactory()
    receive(part, "3", "1")
    issue(part, "1")
    assert [move.quantity for move in moves_of(part)] == [Decimal(-1), Decimal(3)]
