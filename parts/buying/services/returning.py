"""Send back to a supplier what is wrong."""

from datetime import date
from decimal import Decimal

from django.db import transaction
from django.db.models import Sum
from django.utils.translation import gettext as _

from parts.answers.models import Answer, FreshnessRule
from parts.answers.services import record_answer
from parts.buying.models import PurchaseOrder, Receipt, ReceiptLine, SupplierReturn
from parts.buying.services.refusing import BuyingError, once, require_come
from parts.stock.services import issue_stock
from units.rows.services import next_number
from units.show.words import day as written
from units.show.words import number as figure
from units.show.words import person

# What a return says of the route. A part that nobody needs says nothing of it.
SAYS = {
    SupplierReturn.Reason.WRONG: Answer.Status.NO_ANSWER,
    SupplierReturn.Reason.FAULTY: Answer.Status.LIMITED,
}


@transaction.atomic
def return_to_supplier(
    *, receipt_line: ReceiptLine, quantity: Decimal, reason: str, note: str, on: date, key, by, at
) -> SupplierReturn:
    """Take pieces of a delivery off the shelf and send them back; their order line is open again.

    They leave at the cost that the shelf gives for them. The same ``key`` returns the first return.
    """

    def write():
        _lock(receipt_line)
        _require_sense(receipt_line, quantity, on, at)
        return _send_back(receipt_line, quantity, reason, note, on, key, by, at)

    return once(SupplierReturn, key, write)


def _lock(receipt_line: ReceiptLine) -> None:
    """Hold the receipt, and the order if there is one, until what is left of them is counted."""
    if receipt_line.order_line_id:
        orders = PurchaseOrder.objects.filter(lines=receipt_line.order_line_id)
        orders.select_for_update(of=("self",)).get()
    Receipt.objects.select_for_update(of=("self",)).get(pk=receipt_line.receipt_id)


def _require_sense(receipt_line: ReceiptLine, quantity: Decimal, on: date, at) -> None:
    require_come(on, at, "returned_on")
    if on < receipt_line.receipt.received_on:
        raise BuyingError(
            _("It came on %(day)s and cannot go back before.")
            % {"day": written(receipt_line.receipt.received_on)},
            "returned_on",
        )
    if quantity <= 0:
        raise BuyingError(_("Send back more than nothing of it."), "quantity")
    sent = receipt_line.returns.aggregate(sum=Sum("move__quantity"))["sum"] or Decimal(0)
    left = receipt_line.move.quantity + sent
    if quantity > left:
        raise BuyingError(
            _("Of this line %(left)s can go back, not %(wanted)s.")
            % {"left": figure(left), "wanted": figure(quantity)},
            "quantity",
        )


def _send_back(receipt_line, quantity, reason, note, on, key, by, at) -> SupplierReturn:
    part, supplier = receipt_line.move.part, receipt_line.receipt.supplier
    number = f"S{next_number('supplier return'):05}"
    move = issue_stock(
        part=part, quantity=quantity, reason="sent-back", on=on, document=number, by=by, at=at,
        bin=receipt_line.move.bin,
    )  # fmt: skip
    note = " ".join(note.split())
    if status := SAYS.get(reason):
        record_answer(
            part=part,
            route=Answer.Route.SUPPLIER,
            party=supplier.name,
            status=status,
            given_on=on,
            given_by=person(by),
            channel=FreshnessRule.Channel.RETURN,
            note=f"{number}: {note}" if note else number,
            by=by,
            at=at,
        )
    return SupplierReturn.objects.create(
        number=number,
        key=key,
        receipt_line=receipt_line,
        move=move,
        reason=reason,
        note=note,
        returned_on=on,
        recorded_at=at,
        recorded_by=by,
    )
