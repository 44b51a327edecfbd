from collections import defaultdict
from dataclasses import dataclass
from datetime import date

from django.db.models import Max, Q, QuerySet

from parts.buying.models import Exchange, ExchangeOffer
from parts.fits.selectors import fittings
from units.catalogue.selectors import model_families


def exchanges(models, components=None) -> dict[int, dict[str, list[ExchangeOffer]]]:
    """``{model id: {component slug: offers}}``, the newest first, of offers nobody withdrew.

    An offer counts for the component of the model, under any name merged into it, and for a part
    that fits it in any way: itself, by a later number, from a sister, by its size. Six queries at
    the most. ``components`` (slugs) narrows what is looked for.
    """
    models = list(models)
    families, fitted = model_families(models), fittings(models, components)
    members = {pk for family in families.values() for pk in family} | set(families)
    parts = {one.part.pk for placed in fitted.values() for ones in placed.values() for one in ones}
    by_model, by_part = defaultdict(list), defaultdict(list)
    for offer in _standing(members, parts):
        answer = offer.answer
        if answer.part_id:
            by_part[answer.part_id].append(offer)
        else:
            by_model[answer.model_id].append((answer.component_id, offer))
    found = {}
    for model in models:
        named = [one for pk in {model.pk, *families[model.pk]} for one in by_model[pk]]
        for slug, ones in fitted[model.pk].items():
            named += [(slug, offer) for one in ones for offer in by_part[one.part.pk]]
        found[model.pk] = _by_component(named, components)
    return found


def _standing(models, parts) -> QuerySet[ExchangeOffer]:
    named = Q(answer__model__in=models) | Q(answer__part__in=parts)
    offers = ExchangeOffer.objects.filter(named, answer__withdrawal=None)
    return offers.select_related("supplier", "answer")


def _by_component(named, components) -> dict[str, list[ExchangeOffer]]:
    found = defaultdict(list)
    for slug, offer in named:
        if components is None or slug in components:
            found[slug].append(offer)
    for offers in found.values():
        offers.sort(key=lambda offer: (offer.answer.given_on, offer.pk), reverse=True)
    return dict(found)


def offer_rows() -> QuerySet[ExchangeOffer]:
    """Offers that nobody withdrew, the newest first, with the names a list shows."""
    return (
        ExchangeOffer.objects.filter(answer__withdrawal=None)
        .select_related("supplier", "answer__part", "answer__component", "answer__model__maker")
        .order_by("-answer__given_on", "-pk")
    )


@dataclass(frozen=True)
class CoreToSend:
    """An old one that must go back: by ``due_on``, or some day when nothing was agreed."""

    exchange: Exchange
    due_on: date | None
    late: bool


def cores_to_send(on: date) -> list[CoreToSend]:
    """The old ones whose exchange came and that were not sent, those due first at the top."""
    waiting = exchange_rows().filter(came_on__lte=on, sent_on=None)
    found = []
    for exchange in waiting:
        due_on = exchange.due_on(exchange.came_on)
        found.append(CoreToSend(exchange, due_on, due_on is not None and due_on < on))
    return sorted(found, key=lambda one: (one.due_on is None, one.due_on or on, one.exchange.pk))


def exchange_rows() -> QuerySet[Exchange]:
    """Exchanges with ``came_on`` and ``sent_on`` and the names a list shows."""
    came, sent = Q(steps__step="came"), Q(steps__step="sent")
    return Exchange.objects.select_related(
        "offer__supplier",
        "offer__answer__part",
        "offer__answer__component",
        "offer__answer__model__maker",
    ).annotate(
        came_on=Max("steps__done_on", filter=came), sent_on=Max("steps__done_on", filter=sent)
    )
