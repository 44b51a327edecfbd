from datetime import date

from django.db import models
from django.db.models import Exists, ExpressionWrapper, F, OuterRef, Q, Sum, Value
from django.db.models.functions import Coalesce

from units.rows.fields import MoneyField


class DatedQuerySet(models.QuerySet):
    """Rows that hold from a day on; of rows with the same ``same`` fields the newest holds."""

    same: list[str] = []

    def standing(self, on: date):
        newer = self.model._default_manager.filter(
            **{field: OuterRef(field) for field in self.same},
            from_on__gt=OuterRef("from_on"),
            from_on__lte=on,
        )
        return self.filter(~Exists(newer), from_on__lte=on)


class TaxRateQuerySet(DatedQuerySet):
    same = ["jurisdiction", "line_class"]

    def standing(self, on: date):
        return super().standing(on).filter(Q(until_on=None) | Q(until_on__gte=on))


class MarkUpQuerySet(DatedQuerySet):
    same = ["cost_from"]


class InvoiceQuerySet(models.QuerySet):
    def with_balance(self):
        """``paid`` and ``balance`` of each invoice, in the same query."""
        paid = Coalesce(Sum("payments__amount"), Value(0, MoneyField()))
        balance = ExpressionWrapper(F("total") - F("paid"), output_field=MoneyField())
        return self.annotate(paid=paid).annotate(balance=balance)

    def open(self):
        return self.with_balance().filter(balance__gt=0)

    def paid_up(self):
        return self.with_balance().filter(balance__lte=0)

    def matching(self, text: str):
        """By any part of its number, its payer's name or the document it is for."""
        text = text.strip()
        return self.filter(
            Q(number__icontains=text)
            | Q(customer__name__icontains=text)
            | Q(document__icontains=text)
        )


class PaymentQuerySet(models.QuerySet):
    def matching(self, text: str):
        """By any part of its number, its reference, its invoice or the payer's name."""
        text = text.strip()
        return self.filter(
            Q(number__icontains=text)
            | Q(reference__icontains=text)
            | Q(invoice__number__icontains=text)
            | Q(invoice__customer__name__icontains=text)
        )
