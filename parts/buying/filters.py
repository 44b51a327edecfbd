import django_filters
from django.db.models import Exists, OuterRef
from django.utils.translation import gettext_lazy as _

from parts.answers.models import Answer
from parts.buying.models import PurchaseOrder, PurchaseOrderLine, Receipt, Supplier
from parts.fits.models import Part
from units.show.inputs import DayInput


class ReceiptFilter(django_filters.FilterSet):
    supplier = django_filters.ModelChoiceFilter(
        label=_("Supplier"), queryset=Supplier.objects.all(), empty_label=_("any")
    )
    since = django_filters.DateFilter(
        label=_("From"), field_name="received_on", lookup_expr="gte", widget=DayInput
    )
    through = django_filters.DateFilter(
        label=_("Through"), field_name="received_on", lookup_expr="lte", widget=DayInput
    )

    class Meta:
        model = Receipt
        fields = ["supplier", "since", "through"]


class OrderFilter(django_filters.FilterSet):
    supplier = django_filters.ModelChoiceFilter(
        label=_("Supplier"), queryset=Supplier.objects.all(), empty_label=_("any")
    )
    awaited = django_filters.ChoiceFilter(
        label=_("What is to come"),
        choices=[("yes", _("something is to come")), ("no", _("nothing more is to come"))],
        empty_label=_("any"),
        method="is_awaited",
    )
    demand = django_filters.CharFilter(
        label=_("Who waits for it"), field_name="lines__demand", lookup_expr="iexact", distinct=True
    )

    class Meta:
        model = PurchaseOrder
        fields = ["supplier", "awaited", "demand"]

    def is_awaited(self, orders, name, value):
        awaited = Exists(PurchaseOrderLine.objects.open().filter(order=OuterRef("pk")))
        return orders.filter(awaited if value == "yes" else ~awaited)


class PriceFilter(django_filters.FilterSet):
    supplier = django_filters.ModelChoiceFilter(
        label=_("Supplier"),
        queryset=Supplier.objects.all(),
        empty_label=_("any"),
        method="asked_by",
    )
    text = django_filters.CharFilter(label=_("Part’s number or name"), method="fits")

    class Meta:
        model = Answer
        fields = ["supplier", "text"]

    def asked_by(self, prices, name, supplier):
        return prices.filter(party=supplier.name)

    def fits(self, prices, name, text):
        return prices.filter(part__in=Part.objects.matching(text))
