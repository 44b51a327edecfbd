"""What is short, and at which stock to order again."""

from collections import defaultdict
from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import ROUND_CEILING, Decimal
from math import sqrt
from statistics import NormalDist

THOUSANDTH = Decimal("0.001")
NOTHING = Decimal(0)


@dataclass(frozen=True)
class Demand:
    """A document (``key``, as J00012) that needs so much of a part by a day, or at once.

    ``part`` is whatever names a part: a row or its id; the same throughout one question.
    """

    part: Hashable
    quantity: Decimal
    key: str = ""
    wanted_on: date | None = None


@dataclass(frozen=True)
class Coming:
    """What is on order and has not come; with a ``key``, for that document first."""

    part: Hashable
    quantity: Decimal
    key: str = ""


@dataclass(frozen=True)
class Use:
    """How much of a part leaves the shelf in a day: mean and standard deviation."""

    mean: float
    deviation: float


def shortages(
    demands: Iterable[Demand], on_hand: Mapping[Hashable, Decimal], coming: Iterable[Coming]
) -> list[Demand]:
    """What nothing on hand or on order covers; never less than nothing.

    What was ordered for a document is for that document; what it needs no more, and the shelf, is
    shared out in the order of the demands.
    """
    kept, free = defaultdict(Decimal), defaultdict(Decimal, on_hand)
    for one in coming:
        (kept if one.key else free)[_place(one)] += one.quantity
    open_demands = []
    for demand in demands:
        left = demand.quantity - _take(kept, (demand.part, demand.key), demand.quantity)
        open_demands.append(replace(demand, quantity=left))
    for (part, _key), quantity in kept.items():
        free[part] += quantity
    short = []
    for demand in open_demands:
        left = demand.quantity - _take(free, demand.part, demand.quantity)
        if left > 0:
            short.append(replace(demand, quantity=left))
    return short


def _place(one: Coming) -> Hashable:
    return (one.part, one.key) if one.key else one.part


def _take(held: dict, place: Hashable, wanted: Decimal) -> Decimal:
    taken = max(NOTHING, min(held.get(place, NOTHING), wanted))
    if taken:
        held[place] -= taken
    return taken


def use_a_day(taken: Sequence[Decimal], days: int) -> Use:
    """Mean and sample deviation of the use of ``days`` days; those not in ``taken`` used none."""
    if days < 2 or len(taken) > days:
        raise ValueError("use is known from two days or more, each counted once")
    figures = [float(quantity) for quantity in taken]
    mean = sum(figures) / days
    squares = sum((figure - mean) ** 2 for figure in figures)
    squares += (days - len(figures)) * mean**2
    return Use(mean, sqrt(squares / (days - 1)))


def safety_stock(use: Use, lead_days: float, service: float) -> float:
    """Kept beside the expected use: z times the deviation of use during the lead time.

    ``service`` is the wanted share of lead times without a shortage, above 0.5 and below 1; days
    are taken as independent of each other and use as normal.
    """
    return NormalDist().inv_cdf(service) * use.deviation * sqrt(lead_days)


def reorder_point(use: Use, lead_days: float, service: float) -> Decimal:
    """The stock, to the thousandth, at which to order: use during the lead time, and safety."""
    point = use.mean * lead_days + safety_stock(use, lead_days, service)
    return Decimal(point).quantize(THOUSANDTH)


def whole_pieces(quantity: Decimal) -> Decimal:
    """The least number of whole pieces that is no less."""
    return quantity.to_integral_value(rounding=ROUND_CEILING)


def to_order(point: Decimal, available: Decimal) -> Decimal:
    """Whole pieces that lift what is on hand and on order to the reorder point, or none."""
    return max(NOTHING, whole_pieces(point - available))
