"""Which makers to ask about which models: those whose machines stand here."""

from collections import Counter
from datetime import date

from django.urls import reverse
from django.utils.translation import gettext, ngettext
from django.utils.translation import gettext_lazy as _

from parts.answers.domain.support import Support
from parts.answers.selectors import support_of
from shop.floor.models import Stay
from shop.front.domain.todo import Group, Todo, days_between, late_first
from units.catalogue.models import MachineModel
from units.show.words import day

SOON_DAYS = 14


def answers_to_ask(on: date) -> list[Group]:
    """Answers never asked, stale, or stale within a fortnight, and names to confirm."""
    counts = Counter(Stay.objects.here().values_list("unit__model", flat=True))
    models = list(MachineModel.objects.filter(pk__in=counts).select_related("maker"))
    supports = support_of(models, on)
    todos = [
        _ask(model, supports[model.pk], counts[model.pk], on)
        for model in models
        if needs_asking(supports[model.pk], on)
    ]
    return [
        Group(
            _("Makers to ask about parts"),
            late_first(todos),
            _("For every model that stands here a fresh answer is written down."),
            reverse("call-list"),
        ),
        names_to_confirm(on),
    ]


def needs_asking(support: Support, on: date) -> bool:
    if not support.known or not support.fresh:
        return True
    return support.stale_from is not None and (support.stale_from - on).days <= SOON_DAYS


def _ask(model: MachineModel, support: Support, count: int, on: date) -> Todo:
    here = ngettext("%(count)d machine of it is here.", "%(count)d of it are here.", count)
    places = {"model": model, "here": here % {"count": count}}
    if not support.asked:
        sentence = gettext("Nobody has asked about parts for %(model)s. %(here)s")
    elif not support.known:
        sentence = gettext("Nobody answered about parts for %(model)s. %(here)s")
    elif not support.fresh:
        sentence = gettext("The answer about %(model)s is stale. %(here)s")
    else:
        sentence = gettext("The answer about %(model)s goes stale on %(day)s. %(here)s")
        places["day"] = day(support.stale_from)
    since = support.given_on or on
    return Todo(
        sentence=sentence % places,
        since=since,
        days=days_between(since, on),
        late=support.asked and not support.fresh,
        href=reverse("call", args=[model.pk]),
        deed=gettext("Ask and write down"),
    )


def names_to_confirm(on: date) -> Group:
    """Models as typed at the counter that nobody has confirmed or merged. One query."""
    models = MachineModel.objects.unconfirmed().select_related("maker", "kind").order_by("pk")
    todos = tuple(
        Todo(
            sentence=gettext("%(model)s (%(kind)s) is a name as it was typed.")
            % {"model": model, "kind": gettext(model.kind.name)},
            since=on,
            days=0,
            late=False,
            href=reverse("model", args=[model.pk]),
            deed=gettext("Confirm or merge"),
        )
        for model in models
    )
    return Group(
        _("Models nobody has confirmed"),
        todos,
        _("Every model's name is confirmed."),
        reverse("model-list") + "?confirmed=no",
    )
