"""A machine of ours leaves: sold, given away, scrapped or taken apart."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from uuid import UUID, uuid5

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils.translation import gettext as _

from parts.days.services import require_open
from parts.stock.models import Donor
from shop.floor.models import Stay
from shop.floor.selectors import costs_so_far
from shop.floor.services import end_stay, strip_machine
from shop.people.models import Customer
from shop.resale.domain.exits import Exit, outlet_fits
from shop.resale.models import AskingPrice, Disposal, Reservation, Sale
from shop.resale.selectors import exits, reservation_of, retail
from shop.resale.services.errors import ResaleError
from shop.resale.services.reserving import end_reservation
from shop.resale.services.stays import customer_of, ours_and_here, refuse_day, refuse_unmet
from shop.till.domain.pricing import Line
from shop.till.models import Invoice, LineClass
from shop.till.selectors import balance
from shop.till.services import apply_deposit, issue_invoice, take_payment
from shop.work.services.intake import Person
from units.rows.services import next_number


@dataclass(frozen=True)
class Agreed:
    """What buyer and shop agreed on. ``price`` empty means the asking price; ``outlet`` is the
    buyer's, and ``told`` says that he knows it does not fit."""

    price: Decimal | None = None
    price_reason: str = ""
    outlet: str = ""
    told: bool = False


@dataclass(frozen=True)
class Paid:
    """What is paid at once: nothing without a method, all that is open without an amount."""

    method: str = ""
    amount: Decimal | None = None
    reference: str = ""


@transaction.atomic
def sell_machine(
    *,
    stay: Stay,
    customer: Customer | Person,
    on: date,
    way: Exit | None = None,
    agreed: Agreed = Agreed(),
    paid: Paid = Paid(),
    key: UUID,
    by: AbstractBaseUser,
    at: datetime,
) -> Sale:
    """Sell a machine of ours by an exit (retail): invoice, payment if any, and it leaves.

    A buyer who is new becomes a customer; a deposit that he left is taken off. The cost is frozen
    on the sale. The same key gives the first sale. Raises ResaleError with what is unmet,
    DayClosedError, PersonError, PhoneError, or TillError for the money.
    """
    Stay.objects.select_for_update().get(pk=stay.pk)
    if first := Sale.objects.filter(invoice__key=str(key)).first():
        return first
    way = way or retail()
    stay = ours_and_here(stay)
    require_open(on)
    refuse_day(stay, on, at)
    buyer = customer_of(customer, on)
    held = reservation_of(stay)
    his = held is not None and held.customer_id == buyer.pk
    refuse_unmet(stay, way, on, but="reserved" if his else "")
    price = _price(stay, agreed)
    _refuse_outlet(stay, way, agreed)
    line = Line(LineClass.MACHINE, f"{stay.unit}"[:200], Decimal(1), price)
    invoice = issue_invoice(
        customer=buyer, lines=[line], document="", key=str(key), on=on, by=by, at=at
    )
    if his:
        _take_deposit_off(held, invoice, on, by, at)
    take_money(invoice, paid, on, uuid5(key, "payment"), by, at)
    leave = {"left": way.left, "on": on, "document": invoice.number, "fetched": price}
    end_stay(stay=stay, by=by, **leave)
    return Sale.objects.create(
        stay=stay,
        invoice=invoice,
        disclosure=stay.disclosures.filter(exit=way.key).first(),
        outlet=agreed.outlet.strip(),
        price_reason=agreed.price_reason.strip(),
        cost=costs_so_far([stay]).get(stay.pk, Decimal(0)),
        sold_on=on,
        recorded_at=at,
        recorded_by=by,
    )


def _price(stay: Stay, agreed: Agreed) -> Decimal:
    """What was agreed, if it is not below the least price without a reason."""
    asked: AskingPrice | None = stay.prices.first()
    if agreed.price is None and asked is None:
        raise ResaleError(_("It has no asking price. Enter what was agreed."), field="price")
    if agreed.price is None:
        return asked.price
    if agreed.price <= 0:
        raise ResaleError(
            _("A price is more than nothing. A gift is another way out."), field="price"
        )
    below = asked is not None and agreed.price < min(asked.floor, asked.price)
    if below and not agreed.price_reason.strip():
        raise ResaleError(
            _("The price is below the least price. Raise it, or write down the reason."),
            field="price_reason",
        )
    return agreed.price


def _refuse_outlet(stay: Stay, way: Exit, agreed: Agreed) -> None:
    model = stay.unit.model
    if not way.outlet or not model.kind.has_cord or agreed.told:
        return
    said = {"plug": model.plug, "volts": model.volts, "outlet": agreed.outlet}
    if not agreed.outlet.strip():
        text = _("Ask which outlet the buyer has. This machine needs %(plug)s, %(volts)s V.")
        raise ResaleError(text % said, field="outlet")
    if not outlet_fits(model.plug, agreed.outlet):
        text = _(
            "Its plug is %(plug)s, %(volts)s V; the buyer's outlet is %(outlet)s. Wiring belongs "
            "to a licensed electrician: tell the buyer, and tick that he knows."
        )
        raise ResaleError(text % said, field="outlet")


def _take_deposit_off(held: Reservation, invoice: Invoice, on, by, at) -> None:
    if held.deposit.amount > invoice.total:
        raise ResaleError(
            _("The deposit is more than the invoice. Give it back first, then sell the machine."),
            field="price",
        )
    apply_deposit(deposit=held.deposit, invoice=invoice, on=on, by=by, at=at)
    end_reservation(reservation=held, by=by, at=at)


def take_money(invoice: Invoice, paid: Paid, on, key: UUID, by, at) -> None:
    """What is paid at once, if anything; nothing where the invoice is settled."""
    open_ = balance(invoice)
    if not paid.method or not open_:
        return
    take_payment(
        invoice=invoice,
        method=paid.method,
        amount=open_ if paid.amount is None else paid.amount,
        on=on,
        reference=paid.reference,
        key=key,
        by=by,
        at=at,
    )


@transaction.atomic
def dispose_machine(
    *,
    stay: Stay,
    way: Exit,
    taker: str,
    reason: str,
    on: date,
    key: UUID,
    by: AbstractBaseUser,
    at: datetime,
) -> Disposal:
    """Give a machine of ours away or scrap it, at what it cost us; the same key gives the first.

    Raises ResaleError with what is unmet, or DayClosedError.
    """
    Stay.objects.select_for_update().get(pk=stay.pk)
    if first := Disposal.objects.filter(key=key).first():
        return first
    stay = ours_and_here(stay)
    require_open(on)
    refuse_day(stay, on, at)
    for field, value in (("taker", taker), ("reason", reason)):
        if not value.strip():
            raise ResaleError(_("Write down who took it, and why it left so."), field=field)
    refuse_unmet(stay, way, on)
    number = f"G{next_number('disposal'):05}"
    end_stay(stay=stay, left=way.left, on=on, document=number, by=by)
    return Disposal.objects.create(
        stay=stay,
        number=number,
        key=key,
        taker=taker.strip(),
        reason=reason.strip(),
        disclosure=stay.disclosures.filter(exit=way.key).first(),
        cost=costs_so_far([stay]).get(stay.pk, Decimal(0)),
        gone_on=on,
        recorded_at=at,
        recorded_by=by,
    )


@transaction.atomic
def strip_own(*, stay: Stay, on: date, **said) -> Donor:
    """Take a machine of ours apart (see :func:`shop.floor.services.strip_machine`), if it may be.

    Raises ResaleError with what is unmet, FloorError, StripError or DayClosedError.
    """
    stay = Stay.objects.select_for_update().get(pk=stay.pk)
    if stay.left != Stay.Left.STRIPPED:
        refuse_unmet(ours_and_here(stay), exits()["stripped"], on)
    return strip_machine(stay=stay, on=on, **said)
