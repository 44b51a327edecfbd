from django.db.models import Prefetch, QuerySet, Sum

from shop.lots.models import Offer, OfferLine


def offer_rows() -> QuerySet[Offer]:
    """Offers with ``machines``, how many of them, newest first."""
    rows = Offer.objects.select_related("seller").order_by("-offered_on", "-pk")
    return rows.annotate(machines=Sum("lines__count"))


def offer_page() -> QuerySet[Offer]:
    """An offer with its lines; each line's model is the one that it was merged into, if it was."""
    lines = OfferLine.objects.select_related("model__maker", "model__merged_into__maker")
    return Offer.objects.select_related("seller").prefetch_related(
        Prefetch("lines", lines.order_by("position"))
    )
