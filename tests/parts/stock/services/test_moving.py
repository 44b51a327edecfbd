from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction

from parts.days.models import Calendar
from parts.days.services import DayClosedError
from parts.stock.models import LayerUse, Shelf, StockMove
from parts.stock.selectors import newest_move_id
from parts.stock.services import (
    NotEnoughStockError,
    StockError,
    find_or_add_bin,
)
from tests.factories.parts import BinFactory
from tests.factories.units import TODAY
from tests.parts.stock.keeper import Keeper

pytestmark = pytest.mark.django_db
EARLIER, LATER = TODAY - timedelta(days=3), TODAY + timedelta(days=3)


@pytest.fixture
def keeper():
    return Keeper()


def test_what_is_received_lies_on_the_shelf_at_its_cost(keeper):
    move = keeper.receive("3", "0.333333")
    assert (move.quantity, move.cost, move.reason) == (Decimal(3), Decimal("1.00"), "received")
    assert keeper.on_hand == Decimal(3)
    assert keeper.layers == [(Decimal(3), Decimal("1.00"))]


def test_what_is_taken_costs_what_the_oldest_layers_did(keeper):
    keeper.receive("2", "12")
    keeper.receive("2", "10", on=EARLIER)
    move = keeper.issue("3")
    assert (move.quantity, move.cost) == (Decimal(-3), Decimal(-32))
    assert keeper.layers == [(Decimal(0), Decimal(0)), (Decimal(1), Decimal(12))]


def test_the_ledger_says_which_layer_each_piece_came_from(keeper):
    keeper.receive("2", "10")
    keeper.receive("2", "12")
    uses = LayerUse.objects.filter(move=keeper.issue("3")).order_by("layer_id")
    assert list(uses.values_list("quantity", "cost")) == [
        (Decimal(2), Decimal(20)),
        (Decimal(1), Decimal(12)),
    ]


@pytest.mark.parametrize("quantity", ["0", "-1"])
def test_nothing_or_less_moves_nothing(keeper, quantity):
    keeper.receive("5")
    for act in (keeper.receive, keeper.issue):
        with pytest.raises(StockError, match="more than nothing") as refusal:
            act(quantity)
        assert refusal.value.field == "quantity"
    assert keeper.on_hand == Decimal(5)


def test_a_cost_below_nothing_is_refused(keeper):
    with pytest.raises(StockError, match="not less than nothing"):
        keeper.receive("1", "-0.01")


def test_a_cost_that_outgrows_the_ledger_is_refused(keeper):
    with pytest.raises(StockError, match="Check the figures"):
        keeper.receive("999999", "999999")


@pytest.mark.parametrize("method", ["fifo", "average"])
def test_what_came_back_later_did_not_lie_there_in_between(keeper, method):
    if method == "average":
        keeper.cost_by(method)
    keeper.receive("1", on=EARLIER)
    keeper.give_back(keeper.issue("1", on=EARLIER + timedelta(days=1)), on=TODAY)
    with pytest.raises(NotEnoughStockError, match="had come and were left"):
        keeper.issue("1", on=EARLIER + timedelta(days=2))
    assert keeper.issue("1").quantity == -1


def test_what_is_not_there_cannot_be_taken(keeper):
    with pytest.raises(NotEnoughStockError, match="There is none of"):
        keeper.issue("1")


def test_too_few_are_refused_with_what_lies_where(keeper):
    keeper.receive("2")
    keeper.receive("1", place=BinFactory(name="B2"))
    with pytest.raises(NotEnoughStockError, match=r"No bin holds 3 .* A1: 2, B2: 1\."):
        keeper.issue("3")
    assert keeper.on_hand == Decimal(3)
    assert StockMove.objects.count() == 2


def test_without_a_bin_named_the_first_that_holds_all_gives(keeper):
    keeper.receive("1")
    wide = BinFactory(name="B2")
    keeper.receive("4", place=wide)
    assert keeper.issue("2").bin == wide


def test_a_named_bin_gives_although_another_comes_first(keeper):
    other = BinFactory(name="B2")
    keeper.receive("2")
    keeper.receive("2", place=other)
    assert keeper.issue("1", place=other).bin == other


def test_a_named_bin_that_holds_too_few_refuses_although_another_holds_enough(keeper):
    keeper.receive("9")
    with pytest.raises(NotEnoughStockError):
        keeper.issue("1", place=BinFactory(name="B2"))


def test_nothing_is_taken_before_the_day_on_which_it_came(keeper):
    keeper.receive("5")
    with pytest.raises(NotEnoughStockError, match="On 2 Oct 2026"):
        keeper.issue("1", on=EARLIER)
    assert keeper.on_hand == Decimal(5)


def test_what_is_put_back_restores_its_layers_at_their_cost(keeper):
    keeper.receive("3", "0.333333")
    keeper.receive("2", "12")
    before = keeper.layers
    move = keeper.issue("4")
    back = keeper.give_back(move)
    assert (back.quantity, back.cost, back.reason) == (Decimal(4), -move.cost, "returned")
    assert (back.reverses, back.document) == (move, "J00001")
    assert keeper.layers == before
    assert keeper.on_hand == Decimal(5)


def test_putting_back_twice_is_refused_by_who_did_it(keeper):
    keeper.receive("3")
    move = keeper.issue("2")
    keeper.give_back(move)
    with pytest.raises(StockError, match=r"Robin .* put this back already, on 5 Oct 2026"):
        keeper.give_back(move)
    assert keeper.on_hand == Decimal(3)


def test_what_was_received_cannot_be_put_back(keeper):
    with pytest.raises(StockError, match="Only what was taken"):
        keeper.give_back(keeper.receive("3"))


def test_nothing_is_put_back_before_it_was_taken(keeper):
    keeper.receive("3", on=EARLIER)
    move = keeper.issue("1")
    with pytest.raises(StockError, match="cannot be put back before"):
        keeper.give_back(move, on=EARLIER)


def test_a_count_that_agrees_moves_nothing(keeper):
    keeper.receive("3")
    assert keeper.count("3") is None
    assert StockMove.objects.count() == 1


def test_missing_pieces_go_out_at_the_cost_of_the_oldest_layer(keeper):
    keeper.receive("3", "10")
    move = keeper.count("1")
    assert (move.quantity, move.cost, move.document) == (Decimal(-2), Decimal(-20), "C00001")
    assert keeper.on_hand == Decimal(1)


def test_found_pieces_come_in_at_the_cost_of_the_newest_delivery(keeper):
    keeper.receive("1", "10", on=EARLIER)
    keeper.receive("1", "12.5")
    move = keeper.count("4")
    assert (move.quantity, move.cost) == (Decimal(2), Decimal(25))
    assert keeper.layers[-1] == (Decimal(2), Decimal(25))


def test_found_pieces_of_a_part_never_bought_cost_nothing(keeper):
    move = keeper.count("2")
    assert (move.quantity, move.cost) == (Decimal(2), Decimal(0))
    assert keeper.issue("1").cost == Decimal(0)


def test_a_count_below_nothing_is_refused_at_its_field(keeper):
    with pytest.raises(StockError) as refusal:
        keeper.count("-1")
    assert refusal.value.field == "counted"


def test_a_count_of_tomorrow_is_refused_at_its_day(keeper):
    with pytest.raises(StockError, match="has not come yet") as refusal:
        keeper.count("1", on=LATER)
    assert refusal.value.field == "on"


def test_a_move_since_the_count_began_spoils_it(keeper):
    keeper.receive("5")
    seen = newest_move_id(keeper.part)
    keeper.issue("1")
    with pytest.raises(StockError, match=r"moved while you counted \(used on a job, J00001\)"):
        keeper.count("5", seen=seen)
    assert keeper.on_hand == Decimal(4)


def test_the_same_count_sent_twice_counts_once(keeper):
    keeper.receive("5")
    seen = newest_move_id(keeper.part)
    keeper.count("4", seen=seen)
    assert keeper.count("4", seen=seen) is None
    assert keeper.on_hand == Decimal(4)


def test_a_closed_day_takes_no_move(keeper):
    keeper.receive("5", on=EARLIER)
    move = keeper.issue("1", on=EARLIER)
    Calendar.objects.update(closed_through=TODAY)
    for act in (
        lambda: keeper.receive("1"),
        lambda: keeper.issue("1"),
        lambda: keeper.give_back(move),
        lambda: keeper.count("9"),
    ):
        with pytest.raises(DayClosedError, match="closed through 5 Oct 2026"):
            act()
    assert keeper.on_hand == Decimal(4)
    assert keeper.issue("1", on=LATER).quantity == Decimal(-1)


def test_a_bin_is_met_again_however_it_is_spaced_or_capitalised():
    assert find_or_add_bin(name=" a1 ") == find_or_add_bin(name="A1")


def test_a_bin_without_a_name_is_refused():
    with pytest.raises(StockError, match="in which bin"):
        find_or_add_bin(name="  ")


def test_the_database_itself_keeps_a_shelf_from_going_below_zero(keeper):
    keeper.receive("1")
    with pytest.raises(IntegrityError), transaction.atomic():
        Shelf.objects.update(on_hand=Decimal(-1))


def test_the_ledger_cannot_be_rewritten(keeper):
    move = keeper.receive("1")
    move.quantity = Decimal(9)
    with pytest.raises(IntegrityError, match="only grows"), transaction.atomic():
        move.save()
