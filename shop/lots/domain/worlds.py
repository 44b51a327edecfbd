"""Simulated worlds whose truth is known, to see whether bids come true.

A world is drawn from a distribution *wider* than what a shop believes at first: odds, prices, the
chances of parts and the dependence all stray further from the stated figures than the shop thinks.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.random import Generator

from shop.lots.domain.assumptions import Assumptions, base_assumptions, stated
from shop.lots.domain.fates import settle
from shop.lots.domain.inputs import Component, Lot, Machine, Market, Model, Odds, Price, Route
from shop.lots.domain.learning import Outcome
from shop.lots.domain.looking import Plan, look, states
from shop.lots.domain.normal import mean_one, quantiles16

SURE = 1e7  # a beta distribution of so many cases has no spread to speak of
MODELS, COMPONENTS = 6, 8
BELIEVED = 6.0  # how many cases a stated chance counts for with a shop
TRUE = 4.0  # and how many it counts for in the world: the truth strays further
LEVEL_SD, TRUE_LEVEL_SD = 0.18, 0.25
OWN_SD = 0.12
WIDER = 1.4  # the truth of the dependence has so many times the stated spread
RESERVE_SHARE, RESERVE_SD = 0.25, 0.40  # of the prices that the machines would bring
SHARE_SD = 0.15  # how far the sellers of one world stray from that share together


@dataclass(frozen=True)
class World:
    """The truth about a shop's surroundings.

    ``models`` carry what is stated of them; ``odds`` by (model, slug), ``routes`` by route key and
    ``prices`` by model, as times of what is stated, are what is true.
    """

    models: tuple[Model, ...]
    odds: dict[tuple[str, str], float]
    routes: dict[str, float]
    prices: dict[str, float]
    dependence: tuple[float, float]
    market_sd: float
    reserve_share: float


@dataclass(frozen=True)
class Offered:
    """A lot that a seller offers: which models, the truth it was drawn from, and his reserve."""

    models: tuple[int, ...]
    seed: int
    open_routes: frozenset[str]
    market: float
    reserve: float
    listed: float


@dataclass(frozen=True)
class Came:
    """What came back of a lot, and what it cost but for the price paid and the haul.

    ``outcomes`` by machine; ``ratios`` by model, of prices to what the shop expected.
    """

    back: float
    costs: float
    outcomes: tuple[Outcome, ...]
    ratios: dict[str, list[float]]


def draw_world(source: Generator) -> World:
    models = tuple(_stated_model(source, at) for at in range(MODELS))
    parts = [(model.key, one) for model in models for one in model.components]
    odds = {(key, one.slug): _true_chance(source, _mean(one.odds)) for key, one in parts}
    routes = {
        route.key: _true_chance(source, route.chance)
        for _, one in parts
        for route in one.routes
        if route.chance < 1
    }
    prices = {
        model.key: float(np.exp(source.normal(-(TRUE_LEVEL_SD**2) / 2, TRUE_LEVEL_SD)))
        for model in models
    }
    market_sd = stated()["market_sd"].base * float(np.exp(source.normal(0, 0.25)))
    share = RESERVE_SHARE * float(np.exp(source.normal(0, SHARE_SD)))
    return World(models, odds, routes, prices, _true_dependence(source), market_sd, share)


def draw_offer(world: World, source: Generator) -> Offered:
    """A lot of 3 to 14 machines, a few models together."""
    few = source.choice(MODELS, size=int(source.integers(1, 4)), replace=False)
    models = tuple(int(at) for at in source.choice(few, size=int(source.integers(3, 15))))
    market = float(np.exp(source.normal(-(world.market_sd**2) / 2, world.market_sd)))
    held = frozenset(key for key, chance in world.routes.items() if source.random() < chance)
    listed = sum(world.models[at].market.price.mean for at in models)
    reserve = listed * world.reserve_share * float(np.exp(source.normal(0, RESERVE_SD)))
    seed = int(source.integers(2**62))
    return Offered(models, seed, held, market, reserve, listed)


def assumptions_of(dependence: Sequence[tuple[float, float]]) -> Assumptions:
    return replace(base_assumptions(), dependence=tuple(dependence))


def lot_of(offered: Offered, models: Sequence[Model], assumptions: Assumptions) -> Lot:
    """The offered machines, as these models are believed (or are) to be."""
    machines = tuple(Machine(f"u{at}", models[one]) for at, one in enumerate(offered.models))
    return Lot(machines, assumptions)


def what_came(world: World, offered: Offered, believed: Lot) -> Came:
    """The truth of one lot, its machines' fates chosen by what the shop believes of prices."""
    truth = [_true_model(world, model, offered.open_routes) for model in world.models]
    true_lot = lot_of(offered, truth, assumptions_of([world.dependence]))
    looked = look(true_lot, 1, offered.seed)
    levels = _levels(world, offered, believed)
    settled = settle(believed, looked, levels=levels)
    ratios: dict[str, list[float]] = {}
    for row, machine in enumerate(believed.machines):
        if sum(settled.chosen[machine.key][:2]):
            own = float(mean_one(OWN_SD, quantiles16()[looked.price[row, 0]]))
            key = machine.model.key
            ratios.setdefault(key, []).append(float(levels[key][0]) * own)
    outcomes = tuple(outcomes_of(true_lot, offered.seed, believed))
    return Came(float(settled.back[0]), float(settled.costs[0]), outcomes, ratios)


def _levels(world: World, offered: Offered, believed: Lot) -> dict[str, np.ndarray]:
    """What prices turn out to be, as times of what the shop expected."""
    true = {one.key: one.market.price.mean * world.prices[one.key] for one in world.models}
    expected = {one.model.key: one.model.market.price.mean for one in believed.machines}
    return {
        key: np.full(1, true[key] * offered.market / mean, np.float32)
        for key, mean in expected.items()
    }


def outcomes_of(true_lot: Lot, seed: int, believed: Lot) -> list[Outcome]:
    """What failed of every machine, beside the chance that the shop gave it."""
    plan = Plan.of(true_lot, 1, seed)
    found = []
    for true_one, one in zip(true_lot.machines, believed.machines, strict=True):
        failed = next(states(plan, [true_one])).fails[0, :, 0].copy()
        chances = np.array([_mean(part.odds) for part in one.model.components])
        found.append(Outcome(chances, failed))
    return found


def _mean(odds: Odds) -> float:
    return odds.alpha / (odds.alpha + odds.beta)


def _true_chance(source: Generator, stated_chance: float) -> float:
    return float(source.beta(TRUE * stated_chance, TRUE * (1 - stated_chance)))


def _true_dependence(source: Generator) -> tuple[float, float]:
    pair = []
    for key in ("lot_weight", "machine_weight"):
        one = stated()[key]
        pair.append(float(np.clip(source.normal(one.base, WIDER * spread(key)), 0.0, 0.68)))
    return pair[0], pair[1]


def spread(key: str) -> float:
    """The standard deviation that the bounds of a stated figure stand for, were it normal."""
    return (stated()[key].high - stated()[key].low) / 2.5631


def _stated_model(source: Generator, at: int) -> Model:
    """A model as it is stated: its odds and chances count for ``BELIEVED`` cases."""
    key = f"model-{at}"
    parts = tuple(_stated_component(source, key, place) for place in range(COMPONENTS))
    price = Price(float(source.uniform(500, 1800)), LEVEL_SD, OWN_SD)
    market = Market(price, float(source.uniform(0.8, 2.5)), falls=0.95, slows=0.15, months_sd=0.4)
    return Model(key, "treadmill", parts, market, scrap=25.0, disposal=15.0, strip_minutes=45.0)


def _stated_component(source: Generator, model: str, place: int) -> Component:
    chance = float(source.uniform(0.04, 0.4))
    odds = Odds(f"{model}/{place}", BELIEVED * chance, BELIEVED * (1 - chance))
    cost = float(source.uniform(15, 220))
    routes = (
        Route(f"{model}/{place}/maker", float(source.uniform(0.6, 0.95)), cost),
        Route("dear", 1.0, 2.5 * cost + 60.0),
    )
    minutes = float(source.uniform(10, 75))
    return Component(str(place), odds, minutes, routes, spare=0.2 * cost)


def _true_model(world: World, model: Model, held: frozenset[str]) -> Model:
    parts = []
    for one in model.components:
        chance = world.odds[model.key, one.slug]
        odds = Odds(one.odds.key, SURE * chance + 1e-3, SURE * (1 - chance) + 1e-3)
        routes = tuple(
            replace(route, chance=1.0)
            for route in one.routes
            if route.chance >= 1 or route.key in held
        )
        parts.append(replace(one, odds=odds, routes=routes))
    return replace(model, components=tuple(parts))
