import django_filters
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from parts.answers.models import Answer, FreshnessRule
from units.catalogue.domain.keys import match_key


class AnswerFilter(django_filters.FilterSet):
    text = django_filters.CharFilter(label=_("Model or part number"), method="by_number")
    status = django_filters.ChoiceFilter(
        label=_("Parts are"), choices=Answer.Status, empty_label=_("any")
    )
    route = django_filters.ChoiceFilter(
        label=_("By way of"), choices=Answer.Route, empty_label=_("any")
    )
    channel = django_filters.ChoiceFilter(
        label=_("How it came"), choices=FreshnessRule.Channel, empty_label=_("any")
    )

    class Meta:
        model = Answer
        fields = ["text", "status", "route", "channel"]

    def by_number(self, queryset, name, value):
        key = match_key(value)
        if not key:
            return queryset
        return queryset.filter(Q(model__key__contains=key) | Q(part__key__contains=key))
