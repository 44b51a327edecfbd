"""Whatever happens to an order, its figures stay in balance."""

from contextlib import suppress

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase

from parts.buying.models import PurchaseOrderLine
from parts.buying.services import BuyingError, cancel_rest
from parts.stock.selectors import on_hand
from tests.factories.units import MORNING, PersonFactory
from tests.parts.buying.purchase import an_order, send_back, take_in

pytestmark = pytest.mark.django_db
deeds = st.lists(
    st.tuples(st.sampled_from(["come", "back", "cancel"]), st.integers(1, 4)), max_size=6
)


def do(order, deed, quantity) -> None:
    line = order.lines.get()
    if deed == "come":
        take_in(order, str(quantity))
    elif deed == "cancel":
        cancel_rest(line=line, reason="ended", by=PersonFactory(), at=MORNING)
    elif came := line.receipt_lines.select_related("move__part", "receipt").last():
        send_back(came, str(quantity))


class BalanceTest(TestCase):
    @settings(max_examples=15)
    @given(deeds)
    def test_ordered_is_kept_and_to_come_and_cancelled(self, deeds):
        order = an_order("5")
        for deed, quantity in deeds:
            with suppress(BuyingError):  # refused: then nothing may have changed
                do(order, deed, quantity)
            line = PurchaseOrderLine.objects.so_far().get(order=order)
            kept = line.received - line.sent_back
            assert line.quantity == kept + line.to_come + line.cancelled
            assert 0 <= kept <= line.quantity
            assert line.to_come >= 0
            assert on_hand([line.part])[line.part_id] == kept
