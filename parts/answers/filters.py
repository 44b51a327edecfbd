import django_filters
from django.utils.translation import gettext_lazy as _

from parts.answers.models import Answer, FreshnessRule
from units.catalogue.models import MachineModel


class AnswerFilter(django_filters.FilterSet):
    status = django_filters.ChoiceFilter(
        label=_("Parts are"), choices=Answer.Status, empty_label=_("any")
    )
    channel = django_filters.ChoiceFilter(
        label=_("How it came"), choices=FreshnessRule.Channel, empty_label=_("any")
    )
    model = django_filters.ModelChoiceFilter(
        label=_("Model"),
        queryset=MachineModel.objects.select_related("maker"),
        empty_label=_("any"),
    )

    class Meta:
        model = Answer
        fields = ["status", "channel", "model"]
