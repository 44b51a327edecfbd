import django_filters
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from shop.floor.models import Stay
from units.catalogue.domain.keys import match_key
from units.catalogue.models import Kind


class ForSaleFilter(django_filters.FilterSet):
    """Our own machines that stand here. Whether one is ready is derived, and filtered after."""

    text = django_filters.CharFilter(label=_("Maker, model or serial"), method="fits")
    kind = django_filters.ModelChoiceFilter(
        field_name="unit__model__kind",
        queryset=Kind.objects.all(),
        label=_("Kind"),
        empty_label=_("every kind"),
    )

    state = django_filters.ChoiceFilter(
        label=_("Ready"),
        choices=[
            ("ready", _("ready for sale")),
            ("not-ready", _("something is missing")),
            ("reserved", _("reserved")),
        ],
        method="later",
        empty_label=_("ready or not"),
    )

    class Meta:
        model = Stay
        fields = ["text", "kind", "state"]

    def fits(self, stays, name, text):
        wanted = Q(unit__maker__name__icontains=text)
        if key := match_key(text):
            wanted |= Q(unit__model__key__contains=key) | Q(unit__serial_key__contains=key)
        return stays.filter(wanted)

    def later(self, stays, name, value):
        return stays
