"""The prices of a lot, from what comes back and what it costs in every draw.

``back`` is all that comes back, ``costs`` all that it costs but the price paid for it; both are
arrays of one value a draw. At a price ``p`` the profit is ``back - costs - p`` and the
margin that profit over ``costs + p``.
"""

import math
from dataclasses import dataclass
from decimal import ROUND_FLOOR, Decimal

import numpy as np

from shop.lots.domain.reserve import Reserve

CENT = Decimal("0.01")
OFFERS = 801  # prices that are tried for an offer


@dataclass(frozen=True)
class Terms:
    """The margin (profit over all that was laid out) that is wanted, and how sure it has to be."""

    margin: float
    odds: float

    def __post_init__(self):
        if self.margin <= -1:
            raise ValueError("a margin is above -1")
        if not 0 < self.odds < 1:
            raise ValueError("the odds are between 0 and 1")


@dataclass(frozen=True)
class Limit:
    """The most to pay. ``exact`` is below nothing where not even a gift would meet the margin.

    ``error`` is the standard error that the number of draws leaves.
    """

    exact: float
    error: float

    @property
    def amount(self) -> float:
        return max(0.0, self.exact)

    @property
    def in_money(self) -> Decimal:
        """Whole cents, rounded down: a cent more would no longer meet the margin."""
        return Decimal(str(round(self.amount, 6))).quantize(CENT, ROUND_FLOOR)

    @property
    def not_even_as_a_gift(self) -> bool:
        return self.exact < 0


@dataclass(frozen=True)
class Estimate:
    """A mean over the draws and its standard error."""

    value: float
    error: float


@dataclass(frozen=True)
class Opening:
    """An offer, the chance that it is taken, and the profit to be expected of making it."""

    offer: float
    taken: float
    profit: float


def most_to_pay(back: np.ndarray, costs: np.ndarray, terms: Terms) -> Limit:
    """The largest price at which the margin is met in at least the wanted share of the draws.

    That is ``P(back - costs - p >= margin (costs + p)) >= odds``, the ``1 - odds`` quantile of
    ``back / (1 + margin) - costs``.
    """
    return quantile_from_above(bearable(back, costs, terms), terms.odds)


def bearable(back: np.ndarray, costs: np.ndarray, terms: Terms) -> np.ndarray:
    """The price at which each draw would just meet the margin."""
    return back / (1 + terms.margin) - costs


def quantile_from_above(values: np.ndarray, odds: float) -> Limit:
    """The largest value that at least the share ``odds`` of ``values`` reach.

    Its error is half the distance between the order statistics one binomial standard deviation to
    each side.
    """
    falling = np.sort(values)[::-1]
    count = len(falling)
    rank = math.ceil(odds * count - 1e-9) - 1
    step = math.sqrt(count * odds * (1 - odds))
    above = falling[max(0, math.floor(rank - step))]
    below = falling[min(count - 1, math.ceil(rank + step))]
    return Limit(float(falling[rank]), float(above - below) / 2)


def break_even(back: np.ndarray, costs: np.ndarray) -> Estimate:
    """The price of an expected profit of nothing. Shown as such; it is no advice."""
    return mean_of(back - costs)


def mean_of(values: np.ndarray) -> Estimate:
    return Estimate(float(values.mean()), float(values.std() / math.sqrt(len(values))))


def profit_at(back: np.ndarray, costs: np.ndarray, price: float) -> dict[int, float]:
    """The 10th, 50th and 90th percentile of the profit at a price."""
    shown = (10, 50, 90)
    return dict(zip(shown, map(float, np.percentile(back - costs - price, shown)), strict=True))


def odds_at(back: np.ndarray, costs: np.ndarray, terms: Terms, prices: np.ndarray) -> np.ndarray:
    """At each price the share of the draws in which the margin is met."""
    rising = np.sort(bearable(back, costs, terms))
    return 1 - np.searchsorted(rising, prices, side="left") / len(rising)


def opening(expected: float, limit: Limit, reserve: Reserve) -> Opening:
    """The offer of the greatest expected profit, not above the most to pay.

    ``expected`` is the mean of back less costs. It takes the seller's reserve to say nothing of
    what the lot is worth.
    """
    offers = np.linspace(0.0, limit.amount, OFFERS)
    taken = reserve.accepts(offers)
    profits = taken * (expected - offers)
    best = int(np.argmax(profits))
    return Opening(float(offers[best]), float(taken[best]), float(profits[best]))
