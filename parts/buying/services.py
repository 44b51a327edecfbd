import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db import IntegrityError, transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from parts.buying.models import Receipt, ReceiptLine, Supplier, SupplierPrice
from parts.days.services import require_open
from parts.fits.models import Part
from parts.fits.services import RefusedError, find_or_add_part
from parts.stock.models import Bin
from parts.stock.services import find_or_add_bin, receive_stock
from units.catalogue.models import Component, Maker
from units.catalogue.services import find_or_add_maker
from units.rows.services import next_number
from units.show.words import day as written

TELEPHONE = re.compile(r"[+]?[0-9 ()./-]{5,20}")


class BuyingError(RefusedError):
    """A supplier, price or receipt that cannot be taken as it stands."""


@dataclass(frozen=True)
class ReceivedLine:
    part: Part
    bin: Bin
    quantity: Decimal
    unit_cost: Decimal


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


@transaction.atomic
def add_supplier(*, name: str, phone: str = "") -> Supplier:
    """The supplier of this name, added when nobody had met it; the number stays as typed."""
    name, phone = " ".join(name.split()), phone.strip()
    if not name:
        raise BuyingError(_("Say who the supplier is."), "supplier")
    if phone and not TELEPHONE.fullmatch(phone):
        raise BuyingError(_("A telephone number is written in digits."), "phone")
    found = Supplier.objects.filter(name__iexact=name).first()
    return found or Supplier.objects.get_or_create(name=name, defaults={"phone": phone})[0]


@transaction.atomic
def record_price(
    *, supplier: Supplier, part: Part, cost: Decimal, lead_days: int | None, given_on: date, by, at
) -> SupplierPrice:
    """Write down what a supplier asks for a part; earlier prices stay."""
    if cost < 0:
        raise BuyingError(_("A cost is not less than nothing."), "cost")
    _require_come(given_on, at, "given_on")
    return SupplierPrice.objects.create(
        supplier=supplier,
        part=part,
        cost=cost,
        lead_days=lead_days,
        given_on=given_on,
        recorded_at=at,
        recorded_by=by,
    )


@transaction.atomic
def price_part(*, supplier: str, **price) -> SupplierPrice:
    """:func:`record_price` with the supplier's name as typed; a new one is added."""
    return record_price(supplier=add_supplier(name=supplier), **price)


@transaction.atomic
def receive_parts(
    *, supplier: Supplier, lines: Sequence[ReceivedLine], reference: str, on: date, key, by, at
) -> Receipt:
    """Put a delivery on the shelf and keep what it cost as the supplier's price.

    The same ``key`` returns the first receipt and receives nothing again.
    """
    first = Receipt.objects.filter(key=key).first()
    if first:
        return first
    if not lines:
        raise BuyingError(_("A receipt needs at least one line."))
    _require_come(on, at, "received_on")
    try:
        with transaction.atomic():
            return _receive(supplier, lines, reference, on, key, by, at)
    except IntegrityError:  # the same form came twice in one moment
        first = Receipt.objects.filter(key=key).first()
        if first is None:
            raise
        return first


@transaction.atomic
def receive_delivery(
    *, supplier: str, lines: Sequence[TypedLine], reference: str, on: date, key, by, at
) -> Receipt:
    """:func:`receive_parts` from a paper as typed: new supplier, parts and bins are added."""
    first = Receipt.objects.filter(key=key).first()
    if first:
        return first
    return receive_parts(
        supplier=add_supplier(name=supplier),
        lines=[
            ReceivedLine(
                line.part or _new_part(line),
                find_or_add_bin(name=line.bin_name),
                line.quantity,
                line.unit_cost,
            )
            for line in lines
        ],
        reference=reference,
        on=on,
        key=key,
        by=by,
        at=at,
    )


def _receive(supplier, lines, reference, on, key, by, at) -> Receipt:
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
    # Shelves are locked by rising part, so that two deliveries never wait for each other.
    for line in sorted(lines, key=lambda line: line.part.pk):
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
        ReceiptLine.objects.create(receipt=receipt, move=move, unit_cost=line.unit_cost)
        record_price(
            supplier=supplier,
            part=line.part,
            cost=line.unit_cost,
            lead_days=None,
            given_on=on,
            by=by,
            at=at,
        )
    return receipt


def _new_part(line: TypedLine) -> Part:
    maker: Maker | None = None
    if line.maker_name.strip():
        maker = find_or_add_maker(name=line.maker_name)
    return find_or_add_part(
        maker=maker, number=line.number, name=line.name, component=line.component
    )


def _require_come(on: date, at, field: str) -> None:
    today = timezone.localdate(at)
    if on > today:
        raise BuyingError(
            _("%(day)s has not come yet. Use a day up to %(today)s.")
            % {"day": written(on), "today": written(today)},
            field,
        )
