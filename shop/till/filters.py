import django_filters
from django.utils.translation import gettext_lazy as _

from shop.till.models import Invoice, Payment
from units.show.inputs import DayInput


def day_filter(field: str, lookup: str, label):
    return django_filters.DateFilter(
        field_name=field,
        lookup_expr=lookup,
        label=label,
        widget=DayInput,
    )


class InvoiceFilter(django_filters.FilterSet):
    STANDINGS = [("open", _("something is open")), ("paid", _("paid"))]

    text = django_filters.CharFilter(label=_("Invoice, payer or job"), method="fits")
    standing = django_filters.ChoiceFilter(
        label=_("Standing"), choices=STANDINGS, empty_label=_("all"), method="stands"
    )
    first = day_filter("issued_on", "gte", _("Issued from"))
    last = day_filter("issued_on", "lte", _("Issued through"))

    class Meta:
        model = Invoice
        fields = ["text", "standing", "first", "last"]

    def fits(self, invoices, name, text):
        return invoices.matching(text)

    def stands(self, invoices, name, standing):
        return invoices.open() if standing == "open" else invoices.paid_up()


class PaymentFilter(django_filters.FilterSet):
    text = django_filters.CharFilter(label=_("Payment, invoice, payer or reference"), method="fits")
    method = django_filters.ChoiceFilter(
        label=_("Method"), choices=Payment.SETTLED_BY, empty_label=_("all")
    )
    first = day_filter("paid_on", "gte", _("Paid from"))
    last = day_filter("paid_on", "lte", _("Paid through"))

    class Meta:
        model = Payment
        fields = ["text", "method", "first", "last"]

    def fits(self, payments, name, text):
        return payments.matching(text)
