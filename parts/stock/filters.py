import django_filters
from django.utils.translation import gettext_lazy as _

from parts.fits.models import Part
from parts.stock.models import Bin
from units.catalogue.models import Component


class ShelfFilter(django_filters.FilterSet):
    text = django_filters.CharFilter(label=_("Number or name"), method="fits")
    component = django_filters.ModelChoiceFilter(
        label=_("Component"), queryset=Component.objects.all(), empty_label=_("any")
    )
    bin = django_filters.ModelChoiceFilter(
        label=_("Bin"), queryset=Bin.objects.all(), empty_label=_("any"), method="lies_in"
    )

    class Meta:
        model = Part
        fields = ["text", "component", "bin"]

    def fits(self, parts, name, text):
        return parts.matching(text)

    def lies_in(self, parts, name, place):
        return parts.filter(shelves__bin=place, shelves__on_hand__gt=0)
