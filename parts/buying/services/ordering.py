"""Order parts, and say what will not come any more."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db import transaction
from django.utils.translation import gettext as _

from parts.buying.models import Cancellation, PurchaseOrder, PurchaseOrderLine
from parts.buying.services.refusing import BuyingError, once, require_come
from parts.buying.services.suppliers import add_supplier
from parts.fits.models import Part
from units.rows.services import next_number


@dataclass(frozen=True)
class OrderedLine:
    """So many of a part, for the document ``demand`` if one waits for it."""

    part: Part
    quantity: Decimal
    unit_cost: Decimal
    demand: str = ""
    expected_on: date | None = None


@transaction.atomic
def order_parts(
    *, supplier: str, lines: Sequence[OrderedLine], note: str = "", on: date, key, by, at
) -> PurchaseOrder:
    """Write down what was ordered; the supplier's name is as typed, a new one is added.

    The same ``key`` returns the first order and orders nothing again.
    """

    def write():
        require_come(on, at, "ordered_on")
        if not lines:
            raise BuyingError(_("An order needs at least one line."))
        for row, line in enumerate(lines):
            _require_sense(line, on, row)
        order = PurchaseOrder.objects.create(
            number=f"O{next_number('order'):05}",
            key=key,
            supplier=add_supplier(name=supplier),
            ordered_on=on,
            note=" ".join(note.split()),
            recorded_at=at,
            recorded_by=by,
        )
        PurchaseOrderLine.objects.bulk_create(
            PurchaseOrderLine(
                order=order,
                part=line.part,
                quantity=line.quantity,
                unit_cost=line.unit_cost,
                demand=line.demand.strip(),
                expected_on=line.expected_on,
            )
            for line in lines
        )
        return order

    return once(PurchaseOrder, key, write)


def _require_sense(line: OrderedLine, on: date, row: int) -> None:
    if line.quantity <= 0:
        raise BuyingError(_("Order more than nothing of it."), "quantity", row)
    if line.unit_cost < 0:
        raise BuyingError(_("A cost is not less than nothing."), "unit_cost", row)
    if line.expected_on and line.expected_on < on:
        raise BuyingError(_("It cannot come before it was ordered."), "expected_on", row)


@transaction.atomic
def cancel_rest(*, line: PurchaseOrderLine, reason: str, by, at) -> Cancellation:
    """Say that what is still to come of a line will not come, and why."""
    reason = " ".join(reason.split())
    if not reason:
        raise BuyingError(_("Say why it will not come."), "reason")
    # Receiving locks the order as well, so that nothing comes of a line while it is cancelled.
    PurchaseOrder.objects.select_for_update(of=("self",)).get(pk=line.order_id)
    to_come = PurchaseOrderLine.objects.so_far().get(pk=line.pk).to_come
    if not to_come:
        raise BuyingError(_("Nothing of this line is still to come."))
    return Cancellation.objects.create(
        line=line, quantity=to_come, reason=reason, recorded_at=at, recorded_by=by
    )
