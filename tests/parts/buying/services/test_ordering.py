import uuid
from datetime import timedelta
from decimal import Decimal

import pytest

from parts.buying.models import Cancellation, PurchaseOrder, PurchaseOrderLine, Supplier
from parts.buying.services import BuyingError, OrderedLine, cancel_rest, order_parts
from tests.factories.parts import PartFactory
from tests.factories.units import MORNING, TODAY, PersonFactory

pytestmark = pytest.mark.django_db
TOMORROW, YESTERDAY = TODAY + timedelta(days=1), TODAY - timedelta(days=1)


def line(**changes):
    said = {"part": PartFactory(), "quantity": Decimal(2), "unit_cost": Decimal("9.5")}
    return OrderedLine(**said | changes)


def order(*lines, **changes):
    said = {"supplier": "Holmgate spares", "on": TODAY, "key": uuid.uuid4()}
    said |= {"by": PersonFactory(), "at": MORNING}
    return order_parts(lines=lines, **said | changes)


def test_an_order_keeps_what_was_ordered_for_whom_and_when_it_is_expected():
    part = PartFactory()
    made = order(line(part=part, demand=" J00012 ", expected_on=TOMORROW), note="by  van")
    (kept,) = made.lines.all()
    assert (made.number, made.supplier.name, made.note) == ("O00001", "Holmgate spares", "by van")
    assert (kept.part, kept.quantity, kept.unit_cost) == (part, Decimal(2), Decimal("9.5"))
    assert (kept.demand, kept.expected_on) == ("J00012", TOMORROW)


def test_the_same_key_orders_once():
    key = uuid.uuid4()
    first = order(line(), key=key)
    assert order(line(), line(), key=key, supplier="Another") == first
    assert PurchaseOrderLine.objects.count() == 1
    assert Supplier.objects.count() == 1


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"quantity": Decimal(0)}, "quantity"),
        ({"quantity": Decimal(-1)}, "quantity"),
        ({"unit_cost": Decimal("-0.01")}, "unit_cost"),
        ({"expected_on": YESTERDAY}, "expected_on"),
    ],
)
def test_a_wrong_line_is_blamed_by_its_row_and_nothing_is_ordered(wrong, field):
    with pytest.raises(BuyingError) as refusal:
        order(line(), line(**wrong))
    assert (refusal.value.field, refusal.value.row) == (field, 1)
    assert not PurchaseOrder.objects.exists()
    assert not Supplier.objects.exists()


def test_an_order_of_nothing_is_refused():
    with pytest.raises(BuyingError, match="at least one line"):
        order()


def test_an_order_of_tomorrow_is_refused_at_its_day():
    with pytest.raises(BuyingError, match="6 Oct 2026 has not come yet") as refusal:
        order(line(), on=TOMORROW)
    assert refusal.value.field == "ordered_on"


def test_what_will_not_come_is_cancelled_with_a_reason():
    made = order(line())
    kept = made.lines.get()
    cancelled = cancel_rest(line=kept, reason=" no longer  made ", by=PersonFactory(), at=MORNING)
    assert (cancelled.quantity, cancelled.reason) == (Decimal(2), "no longer made")
    assert made.lines.so_far().get().to_come == 0


def test_a_line_is_not_cancelled_twice():
    kept = order(line()).lines.get()
    cancel_rest(line=kept, reason="ended", by=PersonFactory(), at=MORNING)
    with pytest.raises(BuyingError, match="Nothing of this line"):
        cancel_rest(line=kept, reason="ended", by=PersonFactory(), at=MORNING)
    assert Cancellation.objects.count() == 1


def test_a_line_is_not_cancelled_without_a_reason():
    kept = order(line()).lines.get()
    with pytest.raises(BuyingError) as refusal:
        cancel_rest(line=kept, reason="  ", by=PersonFactory(), at=MORNING)
    assert refusal.value.field == "reason"
