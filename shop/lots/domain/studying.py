"""Shops that bid in simulated worlds, learn from what they buy and repair, and are judged."""

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
from shop.lots.domain.prices import Limit, Opening, opening
from shop.lots.domain.reserve import LogNormalReserve
from shop.lots.domain.streams import stream
from shop.lots.domain.valuing import Valuation, limit_of, value_lot
from shop.lots.domain.worlds import (
    BELIEVED,
    MODELS,
    RESERVE_SD,
    RESERVE_SHARE,
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
class Shop:
    """What a shop believes: its models with odds, prices and chances, and the dependence."""

    models: tuple[Model, ...]
    routes: dict[str, Odds]
    weights: Weights

    def value(self, offered: Offered, seed: int) -> Valuation:
        """The offered lot as this shop sees it, without the haul."""
        assumptions = assumptions_of(self.weights.some(PAIRS))
        return value_lot(lot_of(offered, self.models, assumptions), seed=seed, draws=DRAWS)


@dataclass(frozen=True)
class Judged:
    """One lot judged after ``learnt`` lots: where the truth lay in what was predicted, and money.

    ``offer`` and ``rule`` are what the shop and the rule of thumb offer, ``net`` what the lot is
    worth, ``reserve`` what the seller would take, ``knowing`` what one offers who knows ``net``.
    """

    learnt: int
    rank: float
    offer: float
    rule: float
    knowing: float
    net: float
    reserve: float

    @property
    def won(self) -> bool:
        return self.offer >= self.reserve

    def gain(self, offer: float) -> float:
        """The profit of an offer at the price paid."""
        return self.net - offer if offer >= self.reserve else 0.0

    @property
    def best(self) -> float:
        """The profit of one who knows worth and reserve."""
        return max(0.0, self.net - self.reserve)


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
    return Shop(world.models, routes, stated_weights(*pairs))


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
    return Shop(models, routes, learn_weights(shop.weights, came.outcomes))


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
    shops, rule = _learn_all(world, lots, source)
    return [
        _judge(world, shops[stage], one, stage, rule * one.listed)
        for stage in stages
        for one in kept
    ]


def _learn_all(world: World, lots: Sequence[Offered], source: Generator):
    """The shop after each number of lots that were offered, and the rule tuned on all of them."""
    shop = new_shop(world)
    shops, nets = [shop], []
    for offered in lots:
        for _ in range(JOBS):
            shop = _close_job(world, shop, source)
        valued = shop.value(offered, offered.seed + 1)
        came = what_came(world, offered, valued.lot)
        nets.append(came.net - valued.haul.cost)
        if bid(valued, offered).offer >= offered.reserve:
            shop = learn(shop, offered, came)
        shops.append(shop)
    return shops, tuned_rule(lots, nets)


def _close_job(world: World, shop: Shop, source: Generator) -> Shop:
    """One machine of a customer: it teaches odds and dependence, not what machines sell for."""
    offered = replace(draw_offer(world, source), models=(int(source.integers(MODELS)),))
    lot = lot_of(offered, shop.models, assumptions_of([shop.weights.means]))
    came = what_came(world, offered, lot)
    return learn(shop, offered, replace(came, ratios={}))


def bid(valued: Valuation, offered: Offered) -> Opening:
    """The opening of a shop that knows its sellers' reserves only as they are stated."""
    expected = float(valued.net.mean())
    return opening(expected, limit_of(valued, stated_terms()), _reserve(offered))


def _reserve(offered: Offered) -> LogNormalReserve:
    return LogNormalReserve(RESERVE_SHARE * offered.listed, RESERVE_SD)


def tuned_rule(lots: Sequence[Offered], nets: Sequence[float]) -> float:
    """The share of the listed prices that would have brought most on these lots.

    It is tuned on what every lot was worth and what every seller would have taken, bought or not:
    more than a shop would know.
    """
    listed, reserve, net = np.array(
        [(one.listed, one.reserve, net) for one, net in zip(lots, nets, strict=True)]
    ).T
    offers = RULES[:, None] * listed
    gains = np.where(offers >= reserve, net - offers, 0).sum(axis=1)
    return float(RULES[int(gains.argmax())])


def _judge(world: World, shop: Shop, offered: Offered, stage: int, rule: float) -> Judged:
    valued = shop.value(offered, offered.seed + 2)
    net = what_came(world, offered, valued.lot).net - valued.haul.cost
    knowing = opening(net, Limit(net, 0.0), _reserve(offered)).offer if net > 0 else 0.0
    return Judged(
        stage,
        rank_of(net, valued.net),
        bid(valued, offered).offer,
        rule,
        knowing,
        net,
        offered.reserve,
    )
