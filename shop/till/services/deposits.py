"""Money held for a customer until there is an invoice, or until it goes back."""

import uuid
from datetime import date, datetime
from decimal import Decimal

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils.translation import gettext as _

from parts.days.services import require_open
from shop.people.models import Customer
from shop.till.domain.errors import TillError
from shop.till.models import Deposit, DepositEnd, Invoice, Payment
from shop.till.services.payments import take_payment
from units.rows.services import next_number
from units.show.words import day, money


@transaction.atomic
def take_deposit(
    *,
    customer: Customer,
    amount: Decimal,
    method: str,
    document: str,
    on: date,
    reference: str = "",
    key: uuid.UUID,
    by: AbstractBaseUser,
    at: datetime,
) -> Deposit:
    """Take a deposit; the same key gives the first one. Raises TillError or DayClosedError."""
    if first := Deposit.objects.filter(key=key).first():
        return first
    require_open(on)
    if amount <= 0:
        raise TillError(_("A deposit is more than nothing. Enter what was taken."))
    return Deposit.objects.create(
        number=f"A{next_number('deposit'):05}",
        key=key,
        customer=customer,
        document=document,
        method=Payment.Method(method),
        amount=amount,
        taken_on=on,
        reference=reference,
        recorded_at=at,
        recorded_by=by,
    )


@transaction.atomic
def apply_deposit(
    *, deposit: Deposit, invoice: Invoice, on: date, by: AbstractBaseUser, at: datetime
) -> DepositEnd:
    """Take a deposit off an invoice of the same customer. Raises TillError or DayClosedError."""
    deposit = _held(deposit, on)
    if invoice.customer_id != deposit.customer_id:
        raise TillError(
            _("Deposit %(number)s is %(customer)s's money. Bill that customer, or give it back.")
            % {"number": deposit, "customer": deposit.customer}
        )
    take_payment(
        invoice=invoice,
        method=Payment.DEPOSIT,
        amount=deposit.amount,
        on=on,
        reference=deposit.number,
        key=uuid.uuid5(deposit.key, "applied"),
        by=by,
        at=at,
    )
    return _end(deposit, DepositEnd.How.APPLIED, on, by, at, invoice=invoice)


@transaction.atomic
def return_deposit(
    *, deposit: Deposit, on: date, by: AbstractBaseUser, at: datetime, reason: str = ""
) -> DepositEnd:
    """Give a deposit back the way it was paid. Raises TillError or DayClosedError."""
    return _end(_held(deposit, on), DepositEnd.How.RETURNED, on, by, at, reason=reason.strip())


@transaction.atomic
def keep_deposit(
    *, deposit: Deposit, reason: str, on: date, by: AbstractBaseUser, at: datetime
) -> DepositEnd:
    """Keep a deposit, for a reason that is written down. Raises TillError or DayClosedError."""
    if not reason.strip():
        raise TillError(_("Write down why the deposit is kept, as it was agreed."))
    return _end(_held(deposit, on), DepositEnd.How.KEPT, on, by, at, reason=reason.strip())


def _held(deposit: Deposit, on: date) -> Deposit:
    """The deposit, locked, if we still hold it on that day."""
    rows = Deposit.objects.select_for_update(of=["self"]).select_related("customer")
    deposit = rows.get(pk=deposit.pk)
    require_open(on)
    if end := DepositEnd.objects.filter(deposit=deposit).first():
        raise TillError(
            _("Deposit %(number)s of %(amount)s ended on %(day)s already: %(how)s.")
            % {
                "number": deposit,
                "amount": money(deposit.amount),
                "day": day(end.ended_on),
                "how": end.get_how_display(),
            }
        )
    if on < deposit.taken_on:
        raise TillError(
            _("Deposit %(number)s was taken on %(day)s: it cannot end before that.")
            % {"number": deposit, "day": day(deposit.taken_on)}
        )
    return deposit


def _end(deposit: Deposit, how: str, on, by, at, *, reason="", invoice=None) -> DepositEnd:
    return DepositEnd.objects.create(
        deposit=deposit,
        how=how,
        invoice=invoice,
        reason=reason,
        ended_on=on,
        recorded_at=at,
        recorded_by=by,
    )
