import django_filters
from django.utils.translation import gettext_lazy as _

from parts.fits.models import Part
from units.catalogue.models import Component, Maker


class PartFilter(django_filters.FilterSet):
    text = django_filters.CharFilter(label=_("Number, name or designation"), method="fits")
    component = django_filters.ModelChoiceFilter(
        label=_("Component"), queryset=Component.objects.all(), empty_label=_("any")
    )
    maker = django_filters.ModelChoiceFilter(
        label=_("Maker"), queryset=Maker.objects.all(), empty_label=_("any")
    )

    sort = django_filters.ChoiceFilter(
        label=_("Standard part"), choices=Part.Sort, empty_label=_("any")
    )

    class Meta:
        model = Part
        fields = ["text", "component", "maker", "sort"]

    def fits(self, parts, name, text):
        return parts.matching(text)
