"""Shops that bid in simulated worlds, learn from what they buy and repair, and are judged."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.random import Generator

from shop.lots.domain.assumptions import stated, stated_terms
from shop.lots.domain.inputs import Model, Odds
from shop.lots.domain.judging import rank_of
from shop.lots.domain.learning import (
    Outcome,
    Weights,
    learn_odds,
    learn_price,
    learn_weights,
    stated_weights,
)
from shop.lots.domain.prices import Limit, Terms, opening
from shop.lots.domain.reserve import LogNormalReserve
from shop.lots.domain.streams import stream
from shop.lots.domain.valuing import Valuation, limit_of, value_lot
from shop.lots.domain.worlds import (
    BELIEVED,
    MODELS,
    RESERVE_SD,
    RESERVE_SHARE,
    SHARE_SD,
    Came,
    Offered,
    World,
    assumptions_of,
    draw_offer,
    draw_world,
    lot_of,
    spread,
    what_came,
)

STAGES = (0, 5, 10, 30)  # lots of learning after which a shop is judged
JUDGED = 10
JOBS = 3  # repairs that a shop closes between two lots, one machine each
DRAWS = 2048
PAIRS = 16
RULES = np.linspace(0.0, 0.8, 161)  # shares of the list that the rule of thumb tries


@dataclass(frozen=True)
class Sellers:
    """What is believed of sellers' reserves, as shares of the list: a normal logarithm.

    ``log_sd`` is the doubt of their middle; each strays from it by ``RESERVE_SD`` of his own.
    """

    log_share: float = math.log(RESERVE_SHARE)
    log_sd: float = SHARE_SD

    def heard(self, share: float) -> "Sellers":
        """The belief after one seller's reserve was heard of."""
        weight = self.log_sd**2 / (self.log_sd**2 + RESERVE_SD**2)
        middle = self.log_share + weight * (math.log(share) - self.log_share)
        return Sellers(middle, self.log_sd * math.sqrt(1 - weight))

    def reserve(self, listed: float) -> LogNormalReserve:
        return LogNormalReserve(
            math.exp(self.log_share) * listed, math.hypot(self.log_sd, RESERVE_SD)
        )


@dataclass(frozen=True)
class Shop:
    """What a shop believes: its models with odds, prices and chances, dependence and sellers."""

    models: tuple[Model, ...]
    routes: dict[str, Odds]
    weights: Weights
    sellers: Sellers

    def value(self, offered: Offered, seed: int) -> Valuation:
        """The offered lot as this shop sees it."""
        assumptions = assumptions_of(self.weights.some(PAIRS))
        return value_lot(lot_of(offered, self.models, assumptions), seed=seed, draws=DRAWS)

    def bid(self, valued: Valuation, listed: float, terms: Terms | None) -> float:
        """The opening within the terms, or the best expected profit where none are set."""
        expected = float(valued.net.mean())
        limit = limit_of(valued, terms) if terms else Limit(expected, 0.0)
        return opening(expected, limit, self.sellers.reserve(listed)).offer


@dataclass(frozen=True)
class Truth:
    """What is known of a lot once all is sold; ``costs`` are all but the price."""

    listed: float
    reserve: float
    back: float
    costs: float

    @property
    def net(self) -> float:
        return self.back - self.costs


@dataclass(frozen=True)
class Judged:
    """One lot judged after ``learnt`` lots were offered, and where in the prediction it came.

    Offers by name: ``bid`` and ``rule`` keep to the stated terms, ``free_bid`` and ``free_rule``
    only seek profit; ``knowing`` is made by one who knows what the lot is worth.
    """

    learnt: int
    rank: float
    truth: Truth
    offers: dict[str, float]

    def won(self, name: str) -> bool:
        return self.offers[name] >= self.truth.reserve

    def gain(self, name: str) -> float:
        """The profit of an offer at the price paid."""
        return self.truth.net - self.offers[name] if self.won(name) else 0.0

    @property
    def best(self) -> float:
        """The profit of one who knows worth and reserve."""
        return max(0.0, self.truth.net - self.truth.reserve)


def new_shop(world: World) -> Shop:
    """A shop that has learnt nothing: the stated figures."""
    routes = {
        route.key: Odds(route.key, BELIEVED * route.chance, BELIEVED * (1 - route.chance))
        for model in world.models
        for one in model.components
        for route in one.routes
        if route.chance < 1
    }
    pairs = [(stated()[key].base, spread(key)) for key in ("lot_weight", "machine_weight")]
    return Shop(world.models, routes, stated_weights(*pairs), Sellers())


def learn(shop: Shop, offered: Offered, came: Came) -> Shop:
    """The shop after it has taken one lot in, mended, sold and asked for its parts."""
    lot_weight = shop.weights.means[0]
    there = {shop.models[at].key for at in offered.models}
    routes = dict(shop.routes)
    for key, odds in shop.routes.items():
        if key.split("/")[0] in there:
            had = key in offered.open_routes
            routes[key] = learn_odds(odds, int(had), int(not had), 0.0)
    models = tuple(
        _learn_model(model, _of(offered, came, at), came, routes, lot_weight)
        for at, model in enumerate(shop.models)
    )
    weights = learn_weights(shop.weights, came.outcomes)
    return replace(shop, models=models, routes=routes, weights=weights)


def _of(offered: Offered, came: Came, model: int) -> list[Outcome]:
    """The outcomes of one model's machines."""
    return [one for at, one in zip(offered.models, came.outcomes, strict=True) if at == model]


def _learn_model(
    model: Model, outcomes: list[Outcome], came: Came, routes: dict[str, Odds], lot_weight: float
) -> Model:
    if not outcomes:
        return model
    failed = np.sum([one.failed for one in outcomes], axis=0)
    parts = []
    for one, count in zip(model.components, failed, strict=True):
        odds = learn_odds(one.odds, int(count), len(outcomes) - int(count), lot_weight)
        known = tuple(
            replace(route, chance=_mean(routes[route.key])) if route.key in routes else route
            for route in one.routes
        )
        parts.append(replace(one, odds=odds, routes=known))
    ratios = came.ratios.get(model.key, [])
    price = learn_price(model.market.price, ratios, stated()["market_sd"].base)
    return replace(model, components=tuple(parts), market=replace(model.market, price=price))


def _mean(odds: Odds) -> float:
    return odds.alpha / (odds.alpha + odds.beta)


def study_shop(
    number: int, seed: int, stages: Sequence[int] = STAGES, judged: int = JUDGED
) -> list[Judged]:
    """One shop's whole life: so many lots, the same ones judged after each of ``stages``."""
    source = stream(seed, "shop", str(number))
    world = draw_world(source)
    lots = [draw_offer(world, source) for _ in range(max(stages))]
    kept = [draw_offer(world, source) for _ in range(judged)]
    shops, truths = _learn_all(world, lots, source)
    rules = {
        "rule": tuned_rule(truths, stated_terms()),
        "free_rule": tuned_rule(truths, None),
    }
    return [_judge(world, shops[stage], one, stage, rules) for stage in stages for one in kept]


def _learn_all(world: World, lots: Sequence[Offered], source: Generator):
    """The shop after each number of lots that were offered, and the truth of all of them."""
    shop = new_shop(world)
    shops, truths = [shop], []
    for offered in lots:
        for _ in range(JOBS):
            shop = _close_job(world, shop, source)
        valued = shop.value(offered, offered.seed + 1)
        came = what_came(world, offered, valued.lot)
        truths.append(_truth(offered, came, valued))
        if shop.bid(valued, offered.listed, stated_terms()) >= offered.reserve:
            shop = learn(shop, offered, came)
        heard = shop.sellers.heard(offered.reserve / offered.listed)
        shop = replace(shop, sellers=heard)
        shops.append(shop)
    return shops, truths


def _truth(offered: Offered, came: Came, valued: Valuation) -> Truth:
    return Truth(offered.listed, offered.reserve, came.back, came.costs + valued.haul.cost)


def _close_job(world: World, shop: Shop, source: Generator) -> Shop:
    """One machine of a customer: it teaches odds and dependence, not what machines sell for."""
    offered = replace(draw_offer(world, source), models=(int(source.integers(MODELS)),))
    lot = lot_of(offered, shop.models, assumptions_of([shop.weights.means]))
    came = what_came(world, offered, lot)
    return learn(shop, offered, replace(came, ratios={}))


def tuned_rule(truths: Sequence[Truth], terms: Terms | None) -> float:
    """The share of the listed prices that would have brought most on these lots.

    Within terms only shares count whose lots met the margin as often as is wanted; none is 0. The
    rule is tuned on what every lot was worth and every seller would have taken, bought or not: more
    than a shop would know.
    """
    best, best_gain = 0.0, 0.0
    for share in RULES:
        bought = [one for one in truths if share * one.listed >= one.reserve]
        gains = [one.net - share * one.listed for one in bought]
        if sum(gains) > best_gain and (terms is None or _kept(bought, gains, share, terms)):
            best, best_gain = float(share), sum(gains)
    return best


def _kept(bought: Sequence[Truth], gains: Sequence[float], share: float, terms: Terms) -> bool:
    """Whether the margin was met as often as is wanted."""
    met = [
        gain >= terms.margin * (one.costs + share * one.listed)
        for one, gain in zip(bought, gains, strict=True)
    ]
    return sum(met) >= terms.odds * len(met)


def _judge(
    world: World, shop: Shop, offered: Offered, stage: int, rules: dict[str, float]
) -> Judged:
    valued = shop.value(offered, offered.seed + 2)
    truth = _truth(offered, what_came(world, offered, valued.lot), valued)
    reserve = shop.sellers.reserve(offered.listed)
    offers = {name: share * offered.listed for name, share in rules.items()}
    offers["bid"] = shop.bid(valued, offered.listed, stated_terms())
    offers["free_bid"] = shop.bid(valued, offered.listed, None)
    offers["knowing"] = opening(truth.net, Limit(truth.net, 0.0), reserve).offer
    return Judged(stage, rank_of(truth.net, valued.net), truth, offers)
