import django_filters as filters
from django.db.models import Exists, OuterRef, Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from parts.answers.models import Answer
from parts.support.selectors import standing_of
from shop.floor.models import Stay
from units.catalogue.domain.keys import match_key
from units.catalogue.models import Kind, MachineModel, Maker, Unit

STALE = "stale"
# Only one part is ever replaced by another number.
OF_A_MODEL = [one for one in Answer.Status.choices if one[0] != Answer.Status.SUPERSEDED]
NOT_ASKED = "not-asked"


class MachineFilter(filters.FilterSet):
    text = filters.CharFilter(label=_("Serial, model, maker or owner"), method="by_text")
    kind = filters.ModelChoiceFilter(
        label=_("Kind"), field_name="model__kind", queryset=Kind.objects.all(), empty_label=_("any")
    )
    whose = filters.ChoiceFilter(
        label=_("Whose"),
        choices=[("ours", _("our own")), ("customer", _("a customer's"))],
        empty_label=_("any"),
        method="by_owner",
    )
    place = filters.ChoiceFilter(
        label=_("Where"),
        choices=[("here", _("here")), ("left", _("left"))],
        empty_label=_("any"),
        method="by_place",
    )

    class Meta:
        model = Unit
        fields = ["text", "kind", "whose", "place"]

    def by_text(self, queryset, name, value):
        words = (
            Q(maker__name__icontains=value)
            | Q(model__number__icontains=value)
            | Exists(Stay.objects.filter(unit=OuterRef("pk"), owner__name__icontains=value))
        )
        if key := match_key(value):
            words |= Q(serial_key__contains=key) | Q(model__key__contains=key)
        return queryset.filter(words)

    def by_owner(self, queryset, name, value):
        """By the newest stay: a machine that we bought of a customer is our own."""
        newest = Stay.objects.filter(unit=OuterRef("pk")).order_by("-came_on", "-id")
        queryset = queryset.annotate(newest_owner=newest.values("owner")[:1])
        if value == "customer":
            return queryset.filter(newest_owner__isnull=False)
        return queryset.filter(Exists(newest), newest_owner=None)

    def by_place(self, queryset, name, value):
        here = Exists(Stay.objects.here().filter(unit=OuterRef("pk")))
        return queryset.filter(here if value == "here" else ~here)


class ModelFilter(filters.FilterSet):
    """``standing`` keeps what narrowing by support has asked for, so that nobody asks twice."""

    standing: dict | None = None

    text = filters.CharFilter(label=_("Model number or name"), method="by_text")
    kind = filters.ModelChoiceFilter(
        label=_("Kind"), queryset=Kind.objects.all(), empty_label=_("any")
    )
    maker = filters.ModelChoiceFilter(
        label=_("Maker"), queryset=Maker.objects.all(), empty_label=_("any")
    )
    confirmed = filters.ChoiceFilter(
        label=_("Name"),
        choices=[("yes", _("confirmed")), ("no", _("as typed, unconfirmed"))],
        empty_label=_("any"),
        method="by_confirmed",
    )
    support = filters.ChoiceFilter(
        label=_("Parts"),
        choices=[*OF_A_MODEL, (STALE, _("answer stale")), (NOT_ASKED, _("not asked"))],
        empty_label=_("any"),
        method="by_support",
    )

    class Meta:
        model = MachineModel
        fields = ["text", "kind", "maker", "confirmed", "support"]

    def by_text(self, queryset, name, value):
        words = Q(name__icontains=value) | Q(number__icontains=value)
        if key := match_key(value):
            words |= Q(key__contains=key)
        return queryset.filter(words)

    def by_confirmed(self, queryset, name, value):
        return queryset.filter(confirmed=value == "yes")

    def by_support(self, queryset, name, value):
        """The status is derived, so the models are asked about and then named by key."""
        self.standing = standing_of(queryset, timezone.localdate())
        return queryset.filter(
            pk__in=[pk for pk, one in self.standing.items() if answers_to(one.support, value)]
        )


def answers_to(support, value: str) -> bool:
    """Whether a model's support is what the filter asks for; a stale yes is stale, not a yes."""
    asked = support.status != NOT_ASKED
    stale = asked and not support.fresh
    return stale if value == STALE else support.status == value and not stale
