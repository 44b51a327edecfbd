"""Money that goes to those who sold us something, and what of it is held back."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from uuid import UUID, uuid5

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.db.models import Sum
from django.utils.translation import gettext as _

from parts.days.services import require_open
from shop.people.models import Customer
from shop.till.domain.errors import TillError
from shop.till.models import Holdback, HoldbackEnd, SellerPayment
from units.rows.services import next_number
from units.show.words import day, money

How = HoldbackEnd.How


@dataclass(frozen=True)
class Bought:
    """What is paid for: the purchase's document, and who sold it."""

    seller: Customer
    document: str


@dataclass(frozen=True)
class Paying:
    """How money goes to a seller, or comes back from him."""

    method: str = SellerPayment.Method.TRANSFER
    reference: str = ""


BY_TRANSFER = Paying()


@dataclass(frozen=True)
class Ending:
    """What becomes of so much of the money held back, and why; ``paying`` where it is paid out."""

    how: str
    amount: Decimal
    reason: str
    paying: Paying = BY_TRANSFER


@transaction.atomic
def pay_seller(
    *,
    bought: Bought,
    amount: Decimal,
    paying: Paying,
    on: date,
    key: UUID,
    by: AbstractBaseUser,
    at: datetime,
) -> SellerPayment:
    """Pay for a purchase; the same key gives the first payment.

    How much is owed is known to those who know what was bought; they ask before. Raises TillError
    or DayClosedError.
    """
    lock_seller(bought.seller)
    if first := SellerPayment.objects.filter(key=key).first():
        return first
    require_open(on)
    if amount <= 0:
        raise TillError(_("Enter an amount above nothing. What the seller pays back comes back."))
    return _write(bought, amount, paying, on, key, by, at)


@transaction.atomic
def take_back_payment(
    *,
    bought: Bought,
    amount: Decimal,
    paying: Paying,
    on: date,
    key: UUID,
    by: AbstractBaseUser,
    at: datetime,
) -> SellerPayment:
    """Take money back from a seller, at most what he was paid; the same key gives the first.

    Raises TillError or DayClosedError.
    """
    lock_seller(bought.seller)
    if first := SellerPayment.objects.filter(key=key).first():
        return first
    require_open(on)
    paid = SellerPayment.objects.filter(document=bought.document).aggregate(sum=Sum("amount"))
    if not 0 < amount <= (paid["sum"] or 0):
        raise TillError(
            _("The seller was paid %(paid)s in all: that much or less can come back.")
            % {"paid": money(paid["sum"] or Decimal(0))}
        )
    return _write(bought, -amount, paying, on, key, by, at)


@transaction.atomic
def hold_back(
    *,
    bought: Bought,
    amount: Decimal,
    reason: str,
    on: date,
    key: UUID,
    by: AbstractBaseUser,
    at: datetime,
) -> Holdback:
    """Hold part of a price back; the same key gives the first. Raises TillError, DayClosedError."""
    lock_seller(bought.seller)
    if first := Holdback.objects.filter(key=key).first():
        return first
    require_open(on)
    if amount <= 0 or not reason.strip():
        raise TillError(_("Say how much is held back, and until what is settled."))
    return Holdback.objects.create(
        number=f"H{next_number('holdback'):05}",
        key=key,
        seller=bought.seller,
        document=bought.document,
        amount=amount,
        reason=reason.strip()[:200],
        held_on=on,
        recorded_at=at,
        recorded_by=by,
    )


@transaction.atomic
def end_holdback(
    *,
    holdback: Holdback,
    ending: Ending,
    on: date,
    key: UUID,
    by: AbstractBaseUser,
    at: datetime,
) -> HoldbackEnd:
    """Pay out, set off or keep money held back, or a part of it; the same key gives the first.

    Raises TillError or DayClosedError.
    """
    lock_seller(holdback.seller)
    if first := HoldbackEnd.objects.filter(key=key).first():
        return first
    require_open(on)
    _check_ending(holdback, ending, on)
    payment = None
    if ending.how == How.RELEASED:
        bought = Bought(holdback.seller, holdback.document)
        paid = uuid5(key, "payment")
        payment = _write(bought, ending.amount, ending.paying, on, paid, by, at)
    return HoldbackEnd.objects.create(
        holdback=holdback,
        key=key,
        how=How(ending.how),
        amount=ending.amount,
        reason=ending.reason.strip()[:200],
        payment=payment,
        ended_on=on,
        recorded_at=at,
        recorded_by=by,
    )


def lock_seller(seller: Customer) -> None:
    """Hold the seller until the transaction ends, so that two who pay him take turns."""
    Customer.objects.select_for_update().get(pk=seller.pk)


def _check_ending(holdback: Holdback, ending: Ending, on: date) -> None:
    if not ending.reason.strip():
        raise TillError(_("Write down why, and who agreed to it."))
    ended = holdback.ends.aggregate(sum=Sum("amount"))["sum"] or Decimal(0)
    left = holdback.amount - ended
    if not left:
        raise TillError(
            _("All of the %(amount)s held back under %(number)s is settled already.")
            % {"amount": money(holdback.amount), "number": holdback}
        )
    if not 0 < ending.amount <= left:
        raise TillError(
            _("%(left)s is still held back under %(number)s. Enter that much or less.")
            % {"left": money(left), "number": holdback}
        )
    if on < holdback.held_on:
        raise TillError(
            _("It was held back on %(day)s and cannot be settled before that.")
            % {"day": day(holdback.held_on)}
        )


def _write(bought: Bought, amount, paying: Paying, on, key, by, at) -> SellerPayment:
    return SellerPayment.objects.create(
        number=f"V{next_number('seller payment'):05}",
        key=key,
        seller=bought.seller,
        document=bought.document,
        method=SellerPayment.Method(paying.method),
        amount=amount,
        paid_on=on,
        reference=paying.reference.strip()[:60],
        recorded_at=at,
        recorded_by=by,
    )
