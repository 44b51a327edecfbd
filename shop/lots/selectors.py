from django.db.models import Count, F, Prefetch, Q, QuerySet, Sum

from shop.lots.models import Offer, OfferLine


def offer_rows() -> QuerySet[Offer]:
    """Offers with ``machines``, how many of them, and ``unmatched``, lines without a model."""
    return Offer.objects.select_related("seller").annotate(
        machines=Sum("lines__count"),
        unmatched=Count("lines", filter=Q(lines__model=None, lines__isnull=False)),
    )


def offer_page() -> QuerySet[Offer]:
    """An offer with its lines; each line's model is the one that it was merged into, if it was."""
    lines = OfferLine.objects.select_related("model__maker", "model__merged_into__maker")
    return Offer.objects.select_related("seller").prefetch_related(
        Prefetch("lines", lines.order_by(F("position")))
    )
