"""Put on the shelf what came, with an order or without one."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db import transaction
from django.utils.translation import gettext as _

from parts.answers.models import Answer, FreshnessRule
from parts.answers.services import record_answer
from parts.buying.models import PurchaseOrder, PurchaseOrderLine, Receipt, ReceiptLine, Supplier
from parts.buying.services.refusing import BuyingError, once, require_come
from parts.buying.services.suppliers import add_supplier
from parts.days.services import require_open
from parts.fits.models import Part
from parts.fits.services import find_or_add_part
from parts.stock.models import Bin
from parts.stock.services import find_or_add_bin, receive_stock
from units.catalogue.models import Component, Maker
from units.catalogue.services import find_or_add_maker
from units.rows.services import next_number
from units.show.words import day as written
from units.show.words import number as figure


@dataclass(frozen=True)
class ReceivedLine:
    """What came of a part; ``order_line`` is the line that asked for it, if one did."""

    part: Part
    bin: Bin
    quantity: Decimal
    unit_cost: Decimal
    order_line: PurchaseOrderLine | None = None


@dataclass(frozen=True)
class TypedLine:
    """A line of a supplier's paper as somebody typed it: ``part``, or what a new one is."""

    bin_name: str
    quantity: Decimal
    unit_cost: Decimal
    part: Part | None = None
    number: str = ""
    maker_name: str = ""
    name: str = ""
    component: Component | None = None


@dataclass(frozen=True)
class ArrivedLine:
    """What came of one line of an order."""

    line: PurchaseOrderLine
    bin_name: str
    quantity: Decimal
    unit_cost: Decimal


@transaction.atomic
def receive_parts(
    *, supplier: Supplier, lines: Sequence[ReceivedLine], reference: str, on: date, key, by, at
) -> Receipt:
    """Put a delivery on the shelf: it proves that the supplier has these parts, at this cost.

    The same ``key`` returns the first receipt and receives nothing again.
    """

    def write():
        return _receive(supplier, lines, reference, on, key, by, at)

    return once(Receipt, key, write)


@transaction.atomic
def receive_delivery(
    *, supplier: str, lines: Sequence[TypedLine], reference: str, on: date, key, by, at
) -> Receipt:
    """:func:`receive_parts` from a paper as typed: new supplier, parts and bins are added."""

    def write():
        known = [
            ReceivedLine(
                line.part or _new_part(line),
                find_or_add_bin(name=line.bin_name),
                line.quantity,
                line.unit_cost,
            )
            for line in lines
        ]
        return _receive(add_supplier(name=supplier), known, reference, on, key, by, at)

    return once(Receipt, key, write)


@transaction.atomic
def receive_order(
    *, order: PurchaseOrder, lines: Sequence[ArrivedLine], reference: str, on: date, key, by, at
) -> Receipt:
    """Take in what came of an order, all or some of it; never more than is still to come.

    Raises :class:`BuyingError` with the row of the line to blame.
    """

    def write():
        locked = PurchaseOrder.objects.select_for_update(of=("self",)).get(pk=order.pk)
        if on < locked.ordered_on:
            raise BuyingError(
                _("It was ordered on %(day)s and cannot have come before.")
                % {"day": written(locked.ordered_on)},
                "received_on",
            )
        _require_ordered(locked, lines)
        arrived = [
            ReceivedLine(
                one.line.part,
                find_or_add_bin(name=one.bin_name),
                one.quantity,
                one.unit_cost,
                one.line,
            )
            for one in lines
        ]
        supplier = locked.supplier
        return _receive(supplier, arrived, reference, on, key, by, at, locked.ordered_on)

    return once(Receipt, key, write)


def _require_ordered(order: PurchaseOrder, lines: Sequence[ArrivedLine]) -> None:
    """Every line is one of this order, and no more comes of it than is still to come."""
    to_come = dict(order.lines.so_far().values_list("pk", "to_come"))
    came = defaultdict(Decimal)
    for row, one in enumerate(lines):
        if one.line.pk not in to_come:
            raise BuyingError(
                _("%(part)s is no line of %(order)s.") % {"part": one.line.part, "order": order},
                "quantity",
                row,
            )
        came[one.line.pk] += one.quantity
        if came[one.line.pk] > to_come[one.line.pk]:
            raise BuyingError(
                _(
                    "Of %(part)s %(open)s are still to come on %(order)s, not %(came)s. Take in "
                    "%(open)s here and the rest as a delivery without an order."
                )
                % {
                    "part": one.line.part.number,
                    "open": figure(to_come[one.line.pk]),
                    "order": order,
                    "came": figure(came[one.line.pk]),
                },
                "quantity",
                row,
            )


def _receive(supplier, lines, reference, on, key, by, at, ordered_on=None) -> Receipt:
    if not lines:
        raise BuyingError(_("A receipt needs at least one line."))
    require_come(on, at, "received_on")
    require_open(on)
    receipt = Receipt.objects.create(
        number=f"D{next_number('receipt'):05}",
        key=key,
        supplier=supplier,
        reference=reference.strip(),
        received_on=on,
        recorded_at=at,
        recorded_by=by,
    )
    lead_days = (on - ordered_on).days if ordered_on else None
    # Shelves are locked by rising part, so that two deliveries never wait for each other.
    for line in sorted(lines, key=lambda line: line.part.pk):
        _put_away(receipt, line, lead_days)
    return receipt


def _put_away(receipt: Receipt, line: ReceivedLine, lead_days: int | None) -> None:
    on, by, at = receipt.received_on, receipt.recorded_by, receipt.recorded_at
    move = receive_stock(
        part=line.part,
        bin=line.bin,
        quantity=line.quantity,
        unit_cost=line.unit_cost,
        on=on,
        document=receipt.number,
        by=by,
        at=at,
    )
    ReceiptLine.objects.create(
        receipt=receipt, move=move, unit_cost=line.unit_cost, order_line=line.order_line
    )
    record_answer(
        part=line.part,
        route=Answer.Route.SUPPLIER,
        party=receipt.supplier.name,
        status=Answer.Status.SUPPORTED,
        cost=line.unit_cost,
        lead_days=lead_days,
        given_on=on,
        given_by=receipt.supplier.name,
        channel=FreshnessRule.Channel.ORDER,
        note=receipt.number,
        by=by,
        at=at,
    )


def _new_part(line: TypedLine) -> Part:
    maker: Maker | None = None
    if line.maker_name.strip():
        maker = find_or_add_maker(name=line.maker_name)
    return find_or_add_part(
        maker=maker, number=line.number, name=line.name, component=line.component
    )
