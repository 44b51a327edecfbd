import django_filters
from django.utils.translation import gettext_lazy as _

from parts.buying.models import Receipt, Supplier, SupplierPrice
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


class PriceFilter(django_filters.FilterSet):
    supplier = django_filters.ModelChoiceFilter(
        label=_("Supplier"), queryset=Supplier.objects.all(), empty_label=_("any")
    )
    text = django_filters.CharFilter(label=_("Part’s number or name"), method="fits")

    class Meta:
        model = SupplierPrice
        fields = ["supplier", "text"]

    def fits(self, prices, name, text):
        return prices.filter(part__in=Part.objects.matching(text))
