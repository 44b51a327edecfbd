import django_filters
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from units.recalls.domain.notice import digits
from units.recalls.models import Recall
from units.recalls.selectors import recalls_that_name_our_makers


class RecallFilter(django_filters.FilterSet):
    text = django_filters.CharFilter(label=_("Words or number"), method="by_text")
    whose = django_filters.ChoiceFilter(
        label=_("Which"),
        choices=[("ours", _("that may name a maker we know"))],
        empty_label=_("every notice"),
        method="by_maker",
    )

    class Meta:
        model = Recall
        fields: list[str] = []

    def by_text(self, recalls, name, value):
        wanted = Q(title__icontains=value) | Q(description__icontains=value)
        if digits(value):
            wanted |= Q(key=digits(value))
        return recalls.filter(wanted)

    def by_maker(self, recalls, name, value):
        return recalls.filter(pk__in=recalls_that_name_our_makers().values("pk"))
