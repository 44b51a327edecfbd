from django.db.models import Count, F, QuerySet, Sum
from django.db.models.functions import Coalesce

from parts.buying.models import Receipt, ReceiptLine
from parts.buying.querysets import quantity_of
from units.rows.fields import QuantityField


def receipts() -> QuerySet[Receipt]:
    """Receipts with their supplier, ``line_count`` and ``cost``."""
    found = Receipt.objects.select_related("supplier").annotate(
        line_count=Count("lines"), cost=Sum("lines__move__cost")
    )
    return found.order_by("-received_on", "-id")


def lines_of(receipt) -> QuerySet[ReceiptLine]:
    """Its lines with part, bin and order, what was ``sent_back`` and what is ``left`` of each."""
    # A return's move stands below nought in the ledger.
    sent = Coalesce(Sum("returns__move__quantity"), 0, output_field=QuantityField())
    return (
        ReceiptLine.objects.filter(receipt=receipt)
        .select_related("move__part__maker", "move__bin", "order_line__order")
        .prefetch_related("returns__move")
        .annotate(sent_back=quantity_of(0 - sent))
        .annotate(left=quantity_of(F("move__quantity") - F("sent_back")))
        .order_by("id")
    )
