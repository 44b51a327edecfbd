from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db.models import QuerySet

from parts.answers.models import Answer
from parts.answers.selectors import newest_prices
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
    """``{part id: cost}``: the shelf's oldest layer, else the best price that was asked by ``on``.

    A part that is neither on hand nor was priced is left out. At most four queries.
    """
    parts = list(parts)
    costs = _asked(parts, on)
    for part_id, layer in oldest_layers(parts).items():
        costs[part_id] = PartCost(layer.unit_cost, 0, "shelf", layer.move.moved_on)
    return costs


def _asked(parts, on: date) -> dict[int, PartCost]:
    priced = newest_prices(parts, on)
    silent = {part for part, price in priced.items() if price.lead_days is None}
    leads = _named_leads(silent, on) if silent else {}
    return {
        part: PartCost(
            price.cost,
            leads.get((part, price.party)) if part in silent else price.lead_days,
            "supplier",
            price.given_on,
        )
        for part, price in priced.items()
    }


def _named_leads(parts, on: date) -> dict[tuple[int, str], int]:
    """The time to come that a supplier named last, for a price that came without one."""
    named = prices().filter(part__in=parts, given_on__lte=on, lead_days__isnull=False)
    rows = named.order_by("given_on", "id").values_list("part_id", "party", "lead_days")
    return {(part, party): days for part, party, days in rows}


def prices() -> QuerySet[Answer]:
    """What suppliers asked: every standing answer that names a cost, newest first."""
    asked = Answer.objects.standing().filter(route=Answer.Route.SUPPLIER, cost__isnull=False)
    return asked.select_related("part", "recorded_by").newest_first()
