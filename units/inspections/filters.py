import django_filters

from units.inspections.models import Protocol


class ProtocolFilter(django_filters.FilterSet):
    class Meta:
        model = Protocol
        fields = ["kind", "occasion"]
