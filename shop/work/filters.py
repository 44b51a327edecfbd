import django_filters
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from shop.work.models import FlatRate, WorkOrder
from units.catalogue.domain.keys import match_key


class WorkOrderFilter(django_filters.FilterSet):
    text = django_filters.CharFilter(
        label=_("Job, serial, model or customer"), method="filter_text"
    )
    open = django_filters.ChoiceFilter(
        label=_("Open or over"),
        choices=[("open", _("open")), ("over", _("over"))],
        method="filter_open",
        empty_label=_("open and over"),
    )

    class Meta:
        model = WorkOrder
        fields = ["text", "open", "state", "purpose"]

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.filters["state"].extra["empty_label"] = _("every state")
        self.filters["purpose"].extra["empty_label"] = _("everybody's")

    def filter_text(self, queryset, name, value):
        key = match_key(value)
        wanted = Q(owner__name__icontains=value) | Q(machine_text__icontains=value)
        if key:
            wanted |= (
                Q(number__contains=key)
                | Q(unit__serial_key__contains=key)
                | Q(unit__model__key__contains=key)
            )
        return queryset.filter(wanted)

    def filter_open(self, queryset, name, value):
        still_open = WorkOrder.objects.open().values("pk")
        if value == "open":
            return queryset.filter(pk__in=still_open)
        return queryset.exclude(pk__in=still_open)


class FlatRateFilter(django_filters.FilterSet):
    component = django_filters.CharFilter(
        label=_("Component"), field_name="component__name", lookup_expr="icontains"
    )

    class Meta:
        model = FlatRate
        fields = ["component", "act", "kind"]

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.filters["act"].extra["empty_label"] = _("every work")
        self.filters["kind"].extra["empty_label"] = _("every kind")
