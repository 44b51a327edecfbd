from dataclasses import dataclass
from datetime import date

from django.db.models import Max, Q, QuerySet

from parts.buying.models import Exchange, ExchangeOffer


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
