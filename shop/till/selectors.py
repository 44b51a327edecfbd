from collections.abc import Iterable
from datetime import date
from decimal import Decimal

from django.db.models import ExpressionWrapper, F, Prefetch, QuerySet, Sum, Value
from django.db.models.functions import Coalesce
from django.utils.translation import gettext as _

from shop.till.domain.errors import TillError
from shop.till.domain.pricing import PriceRules
from shop.till.domain.tax import Rate
from shop.till.models import (
    Holdback,
    HoldbackEnd,
    Invoice,
    LabourRate,
    MarkUp,
    Payment,
    SellerPayment,
    TaxRate,
)
from units.rows.fields import MoneyField
from units.show.words import day


def tax_rates(on: date) -> list[Rate]:
    return [row.rate for row in TaxRate.objects.standing(on)]


def price_rules(on: date) -> PriceRules:
    """The price rules of a day. Raises TillError while the owner has not set them."""
    labour = LabourRate.objects.standing(on).first()
    steps = tuple(row.step for row in MarkUp.objects.standing(on))
    if labour is None:
        raise TillError(
            _("No labour rate stands for %(day)s. The owner sets one under Rates.")
            % {"day": day(on)}
        )
    if not any(step.cost_from == 0 for step in steps):
        raise TillError(
            _("No mark-up from cost 0 stands for %(day)s. The owner sets one under Rates.")
            % {"day": day(on)}
        )
    return PriceRules(labour.price_per_hour, labour.cost_per_hour, steps)


def balance(invoice: Invoice) -> Decimal:
    """What is still to be paid."""
    return Invoice.objects.with_balance().get(pk=invoice.pk).balance


def balances(invoices: Iterable[Invoice]) -> dict[int, Decimal]:
    """``{invoice id: what is still to be paid}`` in one query."""
    ids = [invoice.pk for invoice in invoices]
    rows = Invoice.objects.with_balance().filter(pk__in=ids).order_by()
    return dict(rows.values_list("pk", "balance"))


def invoice_rows() -> QuerySet[Invoice]:
    # Summing payments drops the order of the model, so it is said again.
    rows = Invoice.objects.with_balance().select_related("customer")
    return rows.order_by(*Invoice._meta.ordering)


def invoice_paper() -> QuerySet[Invoice]:
    return (
        Invoice.objects.with_balance()
        .select_related("customer", "issued_by")
        .prefetch_related("lines", "taxes", "payments")
    )


def reversible(payments: Iterable[Payment]) -> set[str]:
    """The numbers of those among all payments of an invoice that can still be reversed."""
    payments = list(payments)
    keys = {payment.key for payment in payments}
    return {
        payment.number
        for payment in payments
        if not payment.is_reversal
        and payment.method != Payment.DEPOSIT
        and payment.reversal_key not in keys
    }


def payment_rows() -> QuerySet[Payment]:
    return Payment.objects.select_related("invoice__customer", "recorded_by")


def rates_page(on: date) -> dict:
    """What stands on a day, and every rate that was or will be, newest first."""
    return {
        "on": on,
        "labour": LabourRate.objects.standing(on).first(),
        "mark_ups": MarkUp.objects.standing(on).order_by("cost_from"),
        "taxes": TaxRate.objects.standing(on),
        "all_labour": LabourRate.objects.all(),
        "all_mark_ups": MarkUp.objects.all(),
        "all_taxes": TaxRate.objects.order_by("-from_on", "position", "line_class"),
    }


def discharged(documents: Iterable[str] | None = None) -> dict[str, Decimal]:
    """``{purchase: what of its price was paid, or is held back}`` in one query; all without any.

    What was held back and then paid out counts once, as paid; what was set off no longer counts;
    what was kept for good still does.
    """
    paid = SellerPayment.objects.values_list("document").annotate(sum=Sum("amount"))
    held = Holdback.objects.values_list("document").annotate(sum=Sum("amount"))
    ended = HoldbackEnd.objects.exclude(how=HoldbackEnd.How.KEPT)
    ended = ended.values_list("holdback__document").annotate(sum=-Sum("amount"))
    rows = [paid.order_by(), held.order_by(), ended.order_by()]
    if documents is not None:
        wanted = list(documents)
        fields = "document__in", "document__in", "holdback__document__in"
        rows = [one.filter(**{name: wanted}) for one, name in zip(rows, fields, strict=True)]
    sums: dict[str, Decimal] = {}
    for document, amount in rows[0].union(*rows[1:], all=True):
        sums[document] = sums.get(document, Decimal(0)) + amount
    return sums


def seller_payments(document: str) -> QuerySet[SellerPayment]:
    return SellerPayment.objects.filter(document=document).select_related("recorded_by")


def holdbacks(document: str) -> QuerySet[Holdback]:
    """Money held back of a purchase, each with ``ended`` and with its ends. Two queries."""
    ends = HoldbackEnd.objects.select_related("recorded_by", "payment")
    rows = Holdback.objects.filter(document=document).select_related("seller", "recorded_by")
    ended = Coalesce(Sum("ends__amount"), Value(0, MoneyField()))
    left = ExpressionWrapper(F("amount") - F("ended"), output_field=MoneyField())
    rows = rows.annotate(ended=ended).annotate(left=left).order_by("held_on", "pk")
    return rows.prefetch_related(Prefetch("ends", ends))
