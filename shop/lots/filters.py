import django_filters
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from shop.lots.models import Offer
from units.show.inputs import DayInput


class OfferFilter(django_filters.FilterSet):
    text = django_filters.CharFilter(label=_("Title or seller"), method="fits")
    due = django_filters.DateFilter(
        label=_("To be removed by"), field_name="remove_by", lookup_expr="lte", widget=DayInput
    )

    class Meta:
        model = Offer
        fields = ["text", "due"]

    def fits(self, offers, name, text):
        return offers.filter(Q(title__icontains=text) | Q(seller__name__icontains=text))
