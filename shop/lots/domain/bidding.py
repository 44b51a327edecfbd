"""Everything that a bid rests on, reckoned once: prices, profit, fates, drivers, questions."""

from dataclasses import dataclass, field

import numpy as np

from shop.lots.domain.asking import Advice, first_questions, questions_of, stated_wrong
from shop.lots.domain.assumptions import stated_terms
from shop.lots.domain.haul import Haul
from shop.lots.domain.inputs import FATES, Lot
from shop.lots.domain.knowing import Acts, at_ask, at_offer
from shop.lots.domain.prices import (
    Estimate,
    Limit,
    Opening,
    Terms,
    break_even,
    odds_at,
    opening,
    profit_at,
)
from shop.lots.domain.priors import stated_reserve
from shop.lots.domain.reserve import Reserve
from shop.lots.domain.valuing import DRAWS, Valuation, limit_of, value_lot, worth_by_odds
from shop.lots.domain.weighing import (
    Driver,
    Refusal,
    driver_draws,
    drivers,
    refusals,
    sorts_of,
)

BINS = 24  # of the picture of the profit
STEPS = 41  # prices in the picture of the odds


@dataclass(frozen=True)
class Conditions:
    """What is asked of a valuation: the seller's price (None: he asks for ours), the terms, how
    many draws and from which seed."""

    asked: float | None = None
    terms: Terms = field(default_factory=stated_terms)
    seed: int = 1
    draws: int = DRAWS


@dataclass(frozen=True)
class Fated:
    """Machines of one model: how many, what one is worth on average beside nothing paid for it, and
    in which share of the draws they go each way, in the order of ``FATES``."""

    key: str
    count: int
    worth: float
    fates: tuple[float, ...]


@dataclass(frozen=True)
class Curve:
    """Points of a picture, in money and shares or counts."""

    x: tuple[float, ...]
    y: tuple[float, ...]


@dataclass(frozen=True)
class Bid:
    """A lot's bid. ``price`` is the one at which the profit is shown: what is asked, else the most
    to pay; ``met`` the share of the draws that meet the margin there, ``wanted`` the profit that
    the margin is at its mean outlay. ``by_odds`` of the most to pay rests on machines not run.
    Of ``refusable`` sorts of machines and goods those among ``refusals`` were tried, of ``askable``
    questions those in ``advice`` weighed; the drivers were reckoned on ``driver_draws``.
    ``net`` is what is left of a gift at each hundredth, ``worths`` by key of machines and goods."""

    limit: Limit
    break_even: Estimate
    opening: Opening | None
    price: float
    profit: dict[int, float]
    met: float
    wanted: float
    by_odds: float
    haul: Haul
    costs: float
    profits: Curve
    odds: Curve
    fated: tuple[Fated, ...]
    refusals: tuple[Refusal, ...]
    refusable: int
    drivers: tuple[Driver, ...]
    driver_draws: int
    advice: tuple[Advice, ...]
    askable: int
    net: tuple[float, ...]
    worths: dict[str, float]


def bid_of(lot: Lot, conditions: Conditions) -> Bid:
    """Value a lot and all that hangs on it."""
    terms = conditions.terms
    valued = value_lot(lot, seed=conditions.seed, draws=conditions.draws)
    limit = limit_of(valued, terms)
    expected = break_even(valued.back, valued.costs)
    reserve = stated_reserve(conditions.asked, expected.value)
    price = limit.amount if conditions.asked is None else conditions.asked
    acts = _acts(conditions.asked, reserve)
    wrong, questions = stated_wrong(), list(questions_of(lot.machines))
    advice = first_questions(valued, questions, acts, wrong, terms) if acts else []
    mean_costs = float(valued.costs.mean())
    return Bid(
        limit=limit,
        break_even=expected,
        opening=opening(expected.value, limit, reserve) if reserve else None,
        price=price,
        profit=profit_at(valued.back, valued.costs, price),
        met=float(odds_at(valued.back, valued.costs, terms, np.array([price]))[0]),
        wanted=terms.margin * (price + mean_costs),
        by_odds=worth_by_odds(valued, terms) if _rests_on_odds(lot) else 0.0,
        haul=valued.haul,
        costs=mean_costs,
        profits=_profits(valued, price),
        odds=_odds(valued, terms, max(limit.amount, conditions.asked or 0.0)),
        fated=tuple(_fated(valued)),
        refusals=tuple(refusals(valued, terms)),
        refusable=len(sorts_of(lot)),
        drivers=tuple(drivers(valued, terms)),
        driver_draws=driver_draws(valued),
        advice=tuple(advice),
        askable=len(questions) if acts else 0,
        net=tuple(np.percentile(valued.net, range(101)).tolist()),
        worths=_worths(valued),
    )


def _acts(asked: float | None, reserve: Reserve | None) -> Acts | None:
    """What can be done: pay what is asked or leave it, or else offer something."""
    if asked is not None:
        return at_ask(asked)
    return at_offer(reserve) if reserve else None


def _rests_on_odds(lot: Lot) -> bool:
    return any(one.by_odds and not one.ran for one in lot.machines)


def _profits(valued: Valuation, price: float) -> Curve:
    """How often the profit falls into each bin; the outermost hundredth is left out on both sides.
    ``x`` are the bins' edges, one more than ``y``."""
    profit = valued.net - price
    low, high = np.percentile(profit, [1, 99])
    share, edges = np.histogram(profit, bins=BINS, range=(low, max(high, low + 1.0)))
    return Curve(tuple(edges.tolist()), tuple((share / len(profit)).tolist()))


def _odds(valued: Valuation, terms: Terms, upto: float) -> Curve:
    prices = np.linspace(0.0, max(1.6 * upto, float(np.percentile(valued.net, 60)), 100.0), STEPS)
    met = odds_at(valued.back, valued.costs, terms, prices)
    return Curve(tuple(prices.tolist()), tuple(met.tolist()))


def _fated(valued: Valuation) -> list[Fated]:
    """Models by what all their machines are worth, the most first."""
    found: dict[str, list[str]] = {}
    for machine in valued.lot.machines:
        found.setdefault(machine.model.key, []).append(machine.key)
    worth, chosen = valued.settled.worth, valued.settled.chosen
    rows = []
    for model, keys in found.items():
        shares = (sum(chosen[key][at] for key in keys) / len(keys) for at in range(len(FATES)))
        mean = sum(worth[key] for key in keys) / len(keys)
        rows.append(Fated(model, len(keys), float(mean), tuple(map(float, shares))))
    return sorted(rows, key=lambda one: -one.worth * one.count)


def _worths(valued: Valuation) -> dict[str, float]:
    """What each machine is worth on average, and what goods are expected to bring."""
    factor = valued.lot.assumptions.price_factor
    goods = {one.key: factor * one.price.mean * one.quantity for one in valued.lot.goods}
    return {key: float(worth) for key, worth in valued.settled.worth.items()} | goods
