from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction

from parts.stock.models import CostingChoice
from parts.stock.selectors import costing, next_unit_costs
from parts.stock.services import NotEnoughStockError, StockError, choose_costing
from tests.factories.parts import BinFactory
from tests.factories.units import MORNING, TODAY
from tests.parts.stock.keeper import Keeper

pytestmark = pytest.mark.django_db
EARLIER, LATER = TODAY - timedelta(days=3), TODAY + timedelta(days=3)


@pytest.fixture
def keeper():
    keeper = Keeper()
    keeper.cost_by("average")
    return keeper


def test_until_somebody_chooses_it_is_first_in_first_out():
    assert costing() == "fifo"


def test_the_newest_choice_holds(keeper):
    assert costing() == "average"
    keeper.cost_by("fifo")
    assert costing() == "fifo"


def test_a_choice_says_who_made_it_when_and_why(keeper):
    choice = CostingChoice.objects.get()
    assert (choice.recorded_by, choice.recorded_at) == (keeper.by, MORNING)
    assert choice.reason == "as advised"


def test_a_choice_needs_a_reason(keeper):
    with pytest.raises(StockError, match="Say why") as refusal:
        choose_costing(method="fifo", reason=" ", by=keeper.by, at=MORNING)
    assert refusal.value.field == "reason"


def test_what_holds_already_is_not_chosen_again(keeper):
    with pytest.raises(StockError, match="that way already: moving average"):
        keeper.cost_by("average")
    assert CostingChoice.objects.count() == 1


def test_the_method_stays_while_anything_lies_on_the_shelf(keeper):
    keeper.receive("1")
    with pytest.raises(StockError, match="only while nothing lies on the shelf") as refusal:
        keeper.cost_by("fifo")
    assert refusal.value.field == "method"
    assert costing() == "average"


def test_when_the_shelf_is_empty_again_the_method_may_change(keeper):
    keeper.receive("1")
    keeper.issue("1")
    keeper.cost_by("fifo")
    assert costing() == "fifo"


def test_a_choice_cannot_be_rewritten(keeper):
    with pytest.raises(IntegrityError, match="only grows"), transaction.atomic():
        CostingChoice.objects.update(method="fifo")


def test_every_piece_costs_the_average_of_what_lies_there(keeper):
    keeper.receive("1", "10")
    keeper.receive("3", "20")
    assert next_unit_costs([keeper.part]) == {keeper.part.pk: Decimal("17.5")}
    assert keeper.issue("2").cost == Decimal("-35.00")
    assert [layer for layer in keeper.layers if layer[0]] == [(Decimal(2), Decimal("35.00"))]


def test_the_last_piece_takes_the_cents_that_remain(keeper):
    keeper.receive("3", "0.333333")
    assert [keeper.issue("1").cost for _ in range(3)] == [
        Decimal("-0.33"),
        Decimal("-0.34"),
        Decimal("-0.33"),
    ]


def test_what_is_put_back_comes_at_the_cost_at_which_it_went(keeper):
    keeper.receive("2", "10")
    move = keeper.issue("1")
    keeper.receive("1", "40")
    back = keeper.give_back(move)
    assert back.cost == Decimal(10)
    assert next_unit_costs([keeper.part]) == {keeper.part.pk: Decimal(20)}


def test_what_was_taken_before_the_method_changed_can_be_put_back_after():
    keeper = Keeper()
    keeper.receive("2", "10")
    move = keeper.issue("2")
    keeper.cost_by("average")
    keeper.receive("2", "20")
    keeper.give_back(move)
    assert [layer for layer in keeper.layers if layer[0]] == [(Decimal(4), Decimal(60))]


def test_found_pieces_come_in_at_the_average(keeper):
    keeper.receive("1", "10")
    keeper.receive("1", "20")
    assert keeper.count("4").cost == Decimal(30)


def test_nothing_is_taken_before_the_day_on_which_it_came(keeper):
    keeper.receive("5")
    with pytest.raises(NotEnoughStockError, match="On 2 Oct 2026 fewer than 1"):
        keeper.issue("1", on=EARLIER)


def test_on_a_past_day_only_what_no_later_day_needed_can_be_taken(keeper):
    keeper.receive("5", on=EARLIER)
    keeper.issue("4")
    keeper.receive("9", on=LATER)
    with pytest.raises(NotEnoughStockError, match="fewer than 2"):
        keeper.issue("2", on=EARLIER)
    assert keeper.issue("1", on=EARLIER).quantity == Decimal(-1)


def test_bins_change_nothing_of_the_average(keeper):
    keeper.receive("1", "10")
    keeper.receive("1", "20", place=BinFactory(name="B2"))
    assert keeper.issue("1", place=BinFactory(name="B2")).cost == Decimal(-15)
