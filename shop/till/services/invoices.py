from collections.abc import Sequence
from datetime import date, datetime
from decimal import Decimal

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils.translation import gettext as _

from parts.days.services import require_open
from shop.people.models import Customer
from shop.till.domain.errors import TillError
from shop.till.domain.pricing import Line, line_net
from shop.till.domain.tax import TaxableLine, TaxAmount, tax_of
from shop.till.models import Invoice, InvoiceLine, InvoiceTax, TaxRate
from shop.till.services.rates import known_class
from units.rows.services import next_number


@transaction.atomic
def issue_invoice(
    *,
    customer: Customer,
    lines: Sequence[Line],
    document: str,
    key: str,
    on: date,
    by: AbstractBaseUser,
    at: datetime,
) -> Invoice:
    """Bill the lines, taxed by the rates of the day ``on``; the same key gives the first invoice.

    A customer with a reason for exemption is charged no tax, and the reason stays on the
    invoice. A line may take off (a negative price), the whole may not be less than nothing.
    Raises TillError or DayClosedError.
    """
    customer = Customer.objects.select_for_update().get(pk=customer.pk)
    if first := Invoice.objects.filter(key=key).first():
        return first
    require_open(on)
    _check(lines)
    nets = [line_net(line.quantity, line.unit_price) for line in lines]
    taxes = _taxes(customer, lines, nets, on)
    net, tax = sum(nets), sum((amount.tax for amount in taxes), Decimal(0))
    if net < 0 or net + tax < 0:
        raise TillError(_("The lines come to less than nothing. Lower what is taken off."))
    invoice = Invoice.objects.create(
        number=f"R{next_number('invoice'):05}",
        key=key,
        customer=customer,
        document=document,
        issued_on=on,
        net=net,
        tax=tax,
        total=net + tax,
        tax_exempt_reason=customer.tax_exempt_reason,
        issued_at=at,
        issued_by=by,
    )
    _write_lines(invoice, lines, nets)
    _write_taxes(invoice, taxes)
    return invoice


def _check(lines: Sequence[Line]) -> None:
    if not lines:
        raise TillError(_("There is nothing to bill: an invoice needs at least one line."))
    for line in lines:
        if line.quantity <= 0:
            raise TillError(
                _("“%(line)s” has no quantity. Enter how many, or drop the line.")
                % {"line": line.description}
            )
        known_class(line.line_class)


def _taxes(customer: Customer, lines, nets, on: date) -> list[TaxAmount]:
    if customer.tax_exempt_reason:
        return []
    taxable = [TaxableLine(line.line_class, net) for line, net in zip(lines, nets, strict=True)]
    return tax_of(taxable, [row.rate for row in TaxRate.objects.standing(on)])


def _write_lines(invoice: Invoice, lines, nets) -> None:
    InvoiceLine.objects.bulk_create(
        InvoiceLine(
            invoice=invoice,
            position=position,
            line_class=line.line_class,
            description=line.description,
            quantity=line.quantity,
            unit_price=line.unit_price,
            net=net,
        )
        for position, (line, net) in enumerate(zip(lines, nets, strict=True), start=1)
    )


def _write_taxes(invoice: Invoice, taxes: Sequence[TaxAmount]) -> None:
    InvoiceTax.objects.bulk_create(
        InvoiceTax(
            invoice=invoice,
            jurisdiction=amount.jurisdiction,
            percent=amount.percent,
            taxable=amount.taxable,
            tax=amount.tax,
        )
        for amount in taxes
    )
