import django_filters
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from shop.lots.models import Lot
from units.show.inputs import DayInput


class LotFilter(django_filters.FilterSet):
    text = django_filters.CharFilter(label=_("Title or seller"), method="fits")
    state = django_filters.ChoiceFilter(label=_("State"), choices=Lot.State.choices)
    due = django_filters.DateFilter(
        label=_("To be removed by"), field_name="remove_by", lookup_expr="lte", widget=DayInput
    )

    class Meta:
        model = Lot
        fields = ["text", "state", "due"]

    def fits(self, lots, name, text):
        return lots.filter(Q(title__icontains=text) | Q(seller__name__icontains=text))
