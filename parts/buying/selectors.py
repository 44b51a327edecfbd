from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db.models import Count, QuerySet, Sum

from parts.buying.models import Receipt, ReceiptLine, SupplierPrice
from parts.stock.selectors import oldest_layers


@dataclass(frozen=True)
class PartCost:
    """What the next piece costs: ``source`` is ``shelf`` or ``supplier``.

    ``lead_days`` is nought from the shelf and ``None`` when the supplier was not asked.
    """

    unit_cost: Decimal
    lead_days: int | None
    source: str
    given_on: date


def expected_costs(parts, on: date) -> dict[int, PartCost]:
    """``{part id: cost}``: the shelf's oldest layer, else the newest price asked by ``on``.

    A part that is neither on hand nor was priced is left out. Two queries.
    """
    parts = list(parts)
    costs = _asked(parts, on)
    for part_id, layer in oldest_layers(parts).items():
        costs[part_id] = PartCost(layer.unit_cost, 0, "shelf", layer.move.moved_on)
    return costs


def _asked(parts, on) -> dict[int, PartCost]:
    """The newest price of each part, with the newest lead time that its supplier named for it."""
    newest, leads = {}, {}
    prices = SupplierPrice.objects.filter(part__in=parts, given_on__lte=on)
    for price in prices.order_by("-given_on", "-id"):
        newest.setdefault(price.part_id, price)
        if price.lead_days is not None:
            leads.setdefault((price.part_id, price.supplier_id), price.lead_days)
    return {
        part_id: PartCost(
            price.cost, leads.get((part_id, price.supplier_id)), "supplier", price.given_on
        )
        for part_id, price in newest.items()
    }


def receipts() -> QuerySet[Receipt]:
    """Receipts with their supplier, ``line_count`` and ``cost``."""
    found = Receipt.objects.select_related("supplier").annotate(
        line_count=Count("lines"), cost=Sum("lines__move__cost")
    )
    return found.order_by("-received_on", "-id")


def prices() -> QuerySet[SupplierPrice]:
    return SupplierPrice.objects.select_related("supplier", "part", "recorded_by")


def lines_of(receipt) -> QuerySet[ReceiptLine]:
    return (
        ReceiptLine.objects.filter(receipt=receipt)
        .select_related("move__part__maker", "move__bin")
        .order_by("id")
    )
