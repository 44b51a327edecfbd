"""What came of an order: in part, in full, never more."""

import uuid
from datetime import timedelta
from decimal import Decimal

import pytest

from parts.answers.models import Answer
from parts.buying.models import Receipt
from parts.buying.selectors import lines_so_far, states_of
from parts.buying.services import ArrivedLine, BuyingError, cancel_rest, receive_order
from parts.days.models import Calendar
from parts.days.services import DayClosedError
from parts.stock.models import StockMove
from parts.stock.selectors import on_hand
from tests.factories.units import MORNING, TODAY, PersonFactory
from tests.parts.buying.purchase import ORDERED_ON, an_order, take_in

pytestmark = pytest.mark.django_db


def state(order):
    return states_of(lines_so_far([order]))[order.pk]


def test_what_came_lies_on_the_shelf_and_the_order_is_received():
    order = an_order("2", "1")
    receipt = take_in(order, "2", "1")
    held = on_hand(line.part for line in order.lines.select_related("part"))
    assert sorted(held.values()) == [Decimal(1), Decimal(2)]
    assert (receipt.number, receipt.supplier, state(order)) == (
        "D00001", order.supplier, "received",
    )  # fmt: skip


def test_an_order_may_come_in_parts():
    order = an_order("5")
    take_in(order, "2")
    assert state(order) == "part-received"
    assert order.lines.so_far().get().to_come == Decimal(3)
    take_in(order, "3")
    assert state(order) == "received"


def test_what_came_proves_the_supplier_with_its_true_cost_and_days():
    order = an_order("1", cost="10")
    receipt = take_in(order, "1", cost="12.5")
    (answer,) = Answer.objects.all()
    assert (answer.route, answer.party, answer.channel, answer.status) == (
        "supplier", "Corvane parts desk", "order", "supported",
    )  # fmt: skip
    assert (answer.cost, answer.lead_days, answer.note) == (Decimal("12.5"), 6, receipt.number)


def test_more_than_was_ordered_is_refused_with_the_numbers_and_the_way_out():
    order = an_order("1", "3")
    take_in(order, None, "1")
    with pytest.raises(BuyingError) as refusal:
        take_in(order, "1", "3")
    number = order.lines.order_by("id").last().part.number
    assert str(refusal.value) == (
        f"Of {number} 2 are still to come on O00001, not 3. Take in 2 here and the rest as a "
        "delivery without an order."
    )
    assert (refusal.value.field, refusal.value.row) == ("quantity", 1)
    assert Receipt.objects.count() == 1
    assert StockMove.objects.count() == 1


def test_one_line_named_twice_is_counted_together():
    order = an_order("3")
    (line,) = order.lines.all()
    twice = [ArrivedLine(line, "A1", Decimal(2), Decimal(1))] * 2
    with pytest.raises(BuyingError, match="not 4"):
        receive_order(
            order=order, lines=twice, reference="", on=TODAY, key=uuid.uuid4(),
            by=PersonFactory(), at=MORNING,
        )  # fmt: skip
    assert not Receipt.objects.exists()


def test_a_line_of_another_order_is_refused():
    order, other = an_order("1"), an_order("1")
    (line,) = other.lines.all()
    with pytest.raises(BuyingError, match="is no line of O00001"):
        receive_order(
            order=order, lines=[ArrivedLine(line, "A1", Decimal(1), Decimal(1))], reference="",
            on=TODAY, key=uuid.uuid4(), by=PersonFactory(), at=MORNING,
        )  # fmt: skip


def test_what_was_cancelled_does_not_come():
    order = an_order("1")
    cancel_rest(line=order.lines.get(), reason="ended", by=PersonFactory(), at=MORNING)
    with pytest.raises(BuyingError, match="0 are still to come"):
        take_in(order, "1")


def test_the_same_key_receives_once():
    key, order = uuid.uuid4(), an_order("2")
    assert take_in(order, "2", key=key) == take_in(order, "2", key=key)
    assert StockMove.objects.count() == 1


@pytest.mark.parametrize(
    ("on", "words"),
    [
        (ORDERED_ON - timedelta(days=1), "cannot have come before"),
        (TODAY + timedelta(days=1), "has not come yet"),
    ],
)
def test_a_day_before_the_order_or_after_today_is_refused_at_its_field(on, words):
    with pytest.raises(BuyingError, match=words) as refusal:
        take_in(an_order("1"), "1", on=on)
    assert refusal.value.field == "received_on"


def test_a_closed_day_takes_nothing_in():
    order = an_order("1")
    Calendar.objects.update(closed_through=TODAY)
    with pytest.raises(DayClosedError):
        take_in(order, "1")
    assert not StockMove.objects.exists()


def test_nothing_that_came_is_no_receipt():
    with pytest.raises(BuyingError, match="at least one line"):
        take_in(an_order("1"), None)
