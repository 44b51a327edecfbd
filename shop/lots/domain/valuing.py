"""A lot's worth: what comes back, what it costs, and what the machines are each worth."""

from collections.abc import Set
from dataclasses import dataclass, replace

import numpy as np

from shop.lots.domain.fates import Settled, settle
from shop.lots.domain.haul import Haul, haul_of
from shop.lots.domain.inputs import Lot
from shop.lots.domain.looking import Looked, look
from shop.lots.domain.prices import Limit, Terms, most_to_pay

DRAWS = 20_000


@dataclass(frozen=True)
class Valuation:
    """``back`` and ``costs`` of a lot, one a draw; haul and all but the price are costs."""

    lot: Lot
    looked: Looked
    settled: Settled
    haul: Haul
    back: np.ndarray
    costs: np.ndarray

    @property
    def net(self) -> np.ndarray:
        """Back less costs: the profit if the lot were a gift."""
        return self.back - self.costs


def value_lot(lot: Lot, *, seed: int, draws: int = DRAWS) -> Valuation:
    """Value a lot. One seed always gives the same figures, whatever the number of processors."""
    return revalue(lot, look(lot, draws, seed))


def revalue(lot: Lot, looked: Looked, *, without: Set[str] = frozenset()) -> Valuation:
    """The same draws under other prices, rates or factors, or without some machines or goods.

    The haul is reckoned anew for what is left.
    """
    settled = settle(lot, looked, without=without)
    loads = [one.model.load for one in lot.machines if one.key not in without]
    for goods in lot.goods:
        if goods.key not in without:
            loads += [goods.load] * goods.pieces
    haul = haul_of(loads, lot.site, lot.assumptions.haul)
    costs = settled.costs + (haul.cost + lot.other_costs)
    return Valuation(lot, looked, settled, haul, settled.back, costs)


def worth_by_odds(valuation: Valuation, terms: Terms) -> float:
    """How much of the most to pay rests on machines that were not run, at the owner's choice.

    What is left is what the lot is worth with those as donors or scrap.
    """
    cautious = tuple(replace(one, by_odds=False) for one in valuation.lot.machines)
    lot = replace(valuation.lot, machines=cautious)
    without = revalue(lot, valuation.looked)
    return limit_of(valuation, terms).exact - limit_of(without, terms).exact


def limit_of(valuation: Valuation, terms: Terms) -> Limit:
    return most_to_pay(valuation.back, valuation.costs, terms)
