from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db.models import F, QuerySet

from parts.buying.domain import ordering
from parts.buying.domain.ordering import LineSoFar
from parts.buying.models import PurchaseOrder, PurchaseOrderLine


@dataclass(frozen=True)
class OnOrder:
    """What is still to come of a part: all of it, and the line that is expected first."""

    quantity: Decimal
    expected_on: date | None
    order_number: str


def awaited_lines(parts=None) -> QuerySet[PurchaseOrderLine]:
    """Lines of which something is ``to_come``, those expected first before the others."""
    lines = PurchaseOrderLine.objects.open().select_related("order__supplier", "part")
    if parts is not None:
        lines = lines.filter(part__in=list(parts))
    return lines.order_by(F("expected_on").asc(nulls_last=True), "id")


def on_order(parts) -> dict[int, OnOrder]:
    """``{part id: what is to come}`` of parts on order. One query."""
    found: dict[int, OnOrder] = {}
    for line in awaited_lines(parts):
        first = found.get(line.part_id)
        if first is None:
            found[line.part_id] = OnOrder(line.to_come, line.expected_on, line.order.number)
        else:
            total = first.quantity + line.to_come
            found[line.part_id] = OnOrder(total, first.expected_on, first.order_number)
    return found


def order_rows() -> QuerySet[PurchaseOrder]:
    return PurchaseOrder.objects.select_related("supplier", "recorded_by")


def lines_so_far(orders) -> dict[int, list[PurchaseOrderLine]]:
    """``{order id: lines}`` with what became of each. One query."""
    lines = PurchaseOrderLine.objects.so_far().filter(order__in=list(orders))
    found: dict[int, list[PurchaseOrderLine]] = {}
    for line in lines.select_related("part__maker").order_by("order", "id"):
        found.setdefault(line.order_id, []).append(line)
    return found


def states_of(lines: dict[int, Iterable[PurchaseOrderLine]]) -> dict[int, str]:
    """``{order id: state}`` of the lines of :func:`lines_so_far`."""
    return {
        order: ordering.state(
            LineSoFar(line.quantity, line.received, line.sent_back, line.cancelled)
            for line in its_lines
        )
        for order, its_lines in lines.items()
    }
