import uuid
from datetime import timedelta
from decimal import Decimal

import pytest

from parts.answers.models import Answer
from parts.buying.models import SupplierReturn
from parts.buying.selectors import lines_so_far, states_of
from parts.buying.services import BuyingError
from parts.days.models import Calendar
from parts.days.services import DayClosedError
from parts.stock.selectors import on_hand
from parts.stock.services import NotEnoughStockError, issue_stock
from tests.factories.units import MORNING, TODAY, PersonFactory
from tests.parts.buying.purchase import ORDERED_ON, an_order, send_back, take_in

pytestmark = pytest.mark.django_db


@pytest.fixture
def order():
    return an_order("3")


@pytest.fixture
def came(order):
    return take_in(order, "3", cost="12.5").lines.select_related("move__part", "receipt").get()


def test_what_is_sent_back_leaves_the_shelf_at_its_cost(came):
    sent = send_back(came, "2")
    assert (sent.number, sent.move.document, sent.move.cost) == ("S00001", "S00001", Decimal(-25))
    assert on_hand([came.move.part])[came.move.part_id] == Decimal(1)


def test_the_line_of_the_order_is_open_again(order, came):
    send_back(came, "2")
    line = order.lines.so_far().get()
    assert (line.received, line.sent_back, line.to_come) == (Decimal(3), Decimal(2), Decimal(2))
    assert states_of(lines_so_far([order])) == {order.pk: "part-received"}


def test_the_right_part_may_come_after_the_wrong_one(order, came):
    send_back(came, "3")
    take_in(order, "3")
    assert states_of(lines_so_far([order])) == {order.pk: "received"}


@pytest.mark.parametrize(
    ("reason", "statuses"),
    [
        ("wrong", ["supported", "no-answer"]),
        ("faulty", ["supported", "limited"]),
        ("spare", ["supported"]),
    ],
)
def test_what_a_return_says_of_the_route(came, reason, statuses):
    send_back(came, reason=reason)
    said = Answer.objects.order_by("id")
    assert [answer.status for answer in said] == statuses
    assert {answer.party for answer in said} == {"Corvane parts desk"}
    if len(statuses) > 1:
        assert (said.last().channel, said.last().note) == ("return", "S00001: a deck")


def test_the_same_key_sends_back_once(came):
    key = uuid.uuid4()
    assert send_back(came, key=key) == send_back(came, "2", key=key)
    assert SupplierReturn.objects.count() == 1


def test_no_more_goes_back_than_came_and_was_not_sent_back_before(came):
    send_back(came, "2")
    with pytest.raises(BuyingError, match="1 can go back, not 2") as refusal:
        send_back(came, "2")
    assert refusal.value.field == "quantity"
    assert SupplierReturn.objects.count() == 1


def test_what_was_used_meanwhile_cannot_go_back(came):
    issue_stock(
        part=came.move.part, quantity=Decimal(2), reason="used", on=TODAY, document="J00001",
        by=PersonFactory(), at=MORNING,
    )  # fmt: skip
    with pytest.raises(NotEnoughStockError):
        send_back(came, "2")
    assert not SupplierReturn.objects.exists()
    assert Answer.objects.count() == 1


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"quantity": "0"}, "quantity"),
        ({"on": ORDERED_ON}, "returned_on"),
        ({"on": TODAY + timedelta(days=1)}, "returned_on"),
    ],
)
def test_a_wrong_return_is_refused_at_its_field(came, changes, field):
    with pytest.raises(BuyingError) as refusal:
        send_back(came, **changes)
    assert refusal.value.field == field


def test_a_closed_day_sends_nothing_back(came):
    Calendar.objects.update(closed_through=TODAY)
    with pytest.raises(DayClosedError):
        send_back(came)
