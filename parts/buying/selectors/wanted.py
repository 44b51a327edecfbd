"""What should be ordered: for whoever waits, and for the shelf."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, timedelta
from decimal import Decimal
from urllib.parse import urlencode

from parts.answers.selectors import newest_prices
from parts.buying.domain import reorder
from parts.buying.domain.reorder import Coming, Demand
from parts.buying.selectors.orders import awaited_lines
from parts.fits.models import Part
from parts.stock.selectors import daily_use, on_hand

DAYS_OF_USE = 365
LEAST_DAYS_OF_USE = 3  # a part that left the shelf on fewer days has no rhythm to go by
SERVICE = 0.95  # shop default: of 20 lead times, 19 without a shortage


@dataclass(frozen=True)
class ProposedLine:
    """How much of a part to order, for which document, and what it may cost there."""

    part: Part
    quantity: Decimal
    key: str = ""
    wanted_on: date | None = None
    unit_cost: Decimal | None = None
    lead_days: int | None = None
    point: Decimal | None = None


@dataclass(frozen=True)
class ProposedOrder:
    """What one supplier may be asked for; ``supplier`` is empty when nobody priced the parts."""

    supplier: str
    lines: list[ProposedLine]

    @property
    def query(self) -> str:
        """The lines as the form of a new order reads them from its address."""
        wants = [("want", f"{one.part.pk}:{one.quantity:f}:{one.key}") for one in self.lines]
        return urlencode([("supplier", self.supplier), *wants])


def shortages(demands: Iterable[Demand], on: date) -> list[Demand]:
    """What neither the shelf nor an open order covers. Demands name a :class:`Part` and are served
    in their order. Two queries.

    A demand without a day is wanted ``on`` that day.
    """
    demands = [Demand(one.part, one.quantity, one.key, one.wanted_on or on) for one in demands]
    parts = {demand.part.pk: demand.part for demand in demands}
    held = {parts[pk]: quantity for pk, quantity in on_hand(parts.values()).items()}
    coming = [
        Coming(parts[line.part_id], line.to_come, line.demand) for line in awaited_lines(parts)
    ]
    return reorder.shortages(demands, held, coming)


def proposed_orders(short: Iterable[Demand], on: date) -> list[ProposedOrder]:
    """The shortages by the supplier that asks least, those without a price last. Two queries."""
    return _by_supplier(
        [ProposedLine(one.part, one.quantity, one.key, one.wanted_on) for one in short], on
    )


def below_reorder_point(on: date) -> list[ProposedOrder]:
    """What to order so that the shelf lasts until it comes, by the use of the last year.

    Only parts of which a supplier said how long they take. A constant number of queries.
    """
    used = _used(on)
    parts = {part.pk: part for part in Part.objects.filter(pk__in=used).select_related("maker")}
    prices, held = newest_prices(parts.values(), on), on_hand(parts.values())
    coming = defaultdict(Decimal)
    for line in awaited_lines(parts):
        coming[line.part_id] += line.to_come
    lines = []
    for pk, part in parts.items():
        priced = prices.get(pk)
        if priced is None or priced.lead_days is None:
            continue
        use = reorder.use_a_day(used[pk], DAYS_OF_USE)
        point = reorder.whole_pieces(reorder.reorder_point(use, priced.lead_days, SERVICE))
        if wanted := reorder.to_order(point, held[pk] + coming[pk]):
            lines.append(ProposedLine(part, wanted, point=point))
    return _by_supplier(lines, on)


def _used(on: date) -> dict[int, list[Decimal]]:
    """``{part id: how much left the shelf on each day}`` of parts that left it often enough."""
    first = on - timedelta(days=DAYS_OF_USE - 1)
    used = daily_use(None, since=first, until=on)
    return {
        part: list(by_day.values())
        for part, by_day in used.items()
        if len(by_day) >= LEAST_DAYS_OF_USE
    }


def _by_supplier(lines: list[ProposedLine], on: date) -> list[ProposedOrder]:
    prices = newest_prices([line.part for line in lines], on)
    found = defaultdict(list)
    for line in lines:
        priced = prices.get(line.part.pk)
        if priced:
            line = replace(line, unit_cost=priced.cost, lead_days=priced.lead_days)
        found[priced.party if priced else ""].append(line)
    return [
        ProposedOrder(supplier, found[supplier])
        for supplier in sorted(found, key=lambda name: (not name, name))
    ]
