import uuid
from datetime import date, datetime
from decimal import Decimal

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils.translation import gettext as _

from parts.days.services import require_open
from shop.till.domain.errors import TillError
from shop.till.models import Invoice, Payment
from units.rows.services import next_number
from units.show.words import day, money

REFERENCE_LENGTH = Payment._meta.get_field("reference").max_length


@transaction.atomic
def take_payment(
    *,
    invoice: Invoice,
    method: str,
    amount: Decimal,
    on: date,
    reference: str,
    key: uuid.UUID,
    by: AbstractBaseUser,
    at: datetime,
) -> Payment:
    """Take money for an invoice, at most what is open; the same key gives the first payment.

    Raises TillError or DayClosedError.
    """
    invoice = _locked(invoice)
    if first := Payment.objects.filter(key=key).first():
        return first
    require_open(on)
    if amount <= 0:
        raise TillError(_("Enter an amount above nothing. Money given back is a reversal."))
    if on < invoice.issued_on:
        raise TillError(
            _("Invoice %(number)s was issued on %(day)s: a payment cannot be older than it.")
            % {"number": invoice.number, "day": day(invoice.issued_on)}
        )
    _refuse_too_much(invoice, amount)
    return _write(invoice, method, amount, on, reference, key, by, at)


@transaction.atomic
def reverse_payment(
    *, payment: Payment, reason: str, on: date, by: AbstractBaseUser, at: datetime
) -> Payment:
    """Undo a payment by one of the opposite sign; asked twice, the first reversal is given.

    Its key follows from the payment's, so that no payment is reversed twice. Raises TillError
    or DayClosedError.
    """
    invoice = _locked(payment.invoice)
    if payment.is_reversal:
        raise TillError(
            _("%(number)s is itself a reversal. Take the payment anew instead.")
            % {"number": payment.number}
        )
    if payment.method == Payment.DEPOSIT:
        raise TillError(
            _("%(number)s is a deposit that was taken off this invoice; it is not reversed.")
            % {"number": payment.number}
        )
    key = payment.reversal_key
    if first := Payment.objects.filter(key=key).first():
        return first
    require_open(on)
    if on < payment.paid_on:
        raise TillError(
            _("%(number)s was paid on %(day)s: its reversal cannot be older than it.")
            % {"number": payment.number, "day": day(payment.paid_on)}
        )
    reference = _("reverses %(number)s: %(reason)s") % {
        "number": payment.number,
        "reason": reason.strip(),
    }
    return _write(
        invoice, payment.method, -payment.amount, on, reference[:REFERENCE_LENGTH], key, by, at
    )


def _locked(invoice: Invoice) -> Invoice:
    """The invoice, held until the transaction ends, so that two payments take turns."""
    return Invoice.objects.select_for_update().get(pk=invoice.pk)


def _refuse_too_much(invoice: Invoice, amount: Decimal) -> None:
    balance = Invoice.objects.with_balance().get(pk=invoice.pk).balance
    if not balance:
        raise TillError(
            _("Invoice %(number)s is paid already; nothing is open.") % {"number": invoice.number}
        )
    if amount > balance:
        raise TillError(
            _("Only %(balance)s is open on invoice %(number)s. Take that much or less.")
            % {"balance": money(balance), "number": invoice.number}
        )


def _write(invoice, method, amount, on, reference, key, by, at) -> Payment:
    return Payment.objects.create(
        number=f"P{next_number('payment'):05}",
        key=key,
        invoice=invoice,
        method=method,
        amount=amount,
        paid_on=on,
        reference=reference,
        recorded_at=at,
        recorded_by=by,
    )
