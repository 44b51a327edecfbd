from dataclasses import replace

import numpy as np
import pytest

from shop.lots.domain.inputs import Odds
from shop.lots.domain.streams import stream
from shop.lots.domain.studying import new_shop
from shop.lots.domain.valuing import value_lot
from shop.lots.domain.worlds import (
    LEVEL_SD,
    TRUE_LEVEL_SD,
    assumptions_of,
    draw_offer,
    draw_world,
    lot_of,
    what_came,
)


def a_world(number=1):
    source = stream(3, "world", str(number))
    return draw_world(source), source


def test_a_world_strays_further_than_its_shop_believes():
    """Over 60 worlds: the spread of true chances against that of the believed beta, and of prices
    against the believed level."""
    off, wide, prices = [], [], []
    for number in range(60):
        world, _ = a_world(number)
        prices += [np.log(one) for one in world.prices.values()]
        for model in world.models:
            for one in model.components:
                a, b = one.odds.alpha, one.odds.beta
                off.append((world.odds[model.key, one.slug] - a / (a + b)) ** 2)
                wide.append(a * b / ((a + b) ** 2 * (a + b + 1)))
    assert np.mean(off) / np.mean(wide) == pytest.approx(7 / 5, rel=0.1)  # (6 + 1) / (4 + 1)
    assert np.std(prices) == pytest.approx(TRUE_LEVEL_SD, rel=0.15)
    assert TRUE_LEVEL_SD > LEVEL_SD


def test_the_same_seed_draws_the_same_world_and_lots():
    first, second = (a_world() for _ in range(2))
    assert first[0] == second[0]
    assert draw_offer(*first) == draw_offer(*second)


def test_a_lot_has_three_to_fourteen_machines_of_few_models():
    world, source = a_world()
    lots = [draw_offer(world, source) for _ in range(200)]
    assert {len(one.models) for one in lots} == set(range(3, 15))
    assert max(len(set(one.models)) for one in lots) == 3


def test_parts_are_open_as_often_as_the_world_says():
    world, source = a_world()
    lots = [draw_offer(world, source) for _ in range(1500)]
    for key, chance in list(world.routes.items())[:8]:
        share = np.mean([key in one.open_routes for one in lots])
        assert share == pytest.approx(chance, abs=4 * np.sqrt(0.25 / 1500))


def test_what_comes_of_lots_is_what_a_shop_that_knew_the_world_would_predict():
    """A shop that believes the truth: over many lots the mean of what came is what it expects."""
    world, source = a_world()
    shop = new_shop(world)
    gaps, errors = [], []
    for _ in range(100):
        offered = draw_offer(world, source)
        believed = lot_of(offered, truly(world, shop.models), assumptions_of([world.dependence]))
        valued = value_lot(believed, seed=offered.seed + 1, draws=500)
        came = what_came(world, offered, believed)
        net = came.back - came.costs - valued.haul.cost
        gaps.append(net - valued.net.mean())
        errors.append(valued.net.std())
    z = np.array(gaps) / np.array(errors)
    assert abs(z.mean()) < 4 / np.sqrt(100)
    assert z.std() == pytest.approx(1, abs=0.2)


def truly(world, models):
    """Models as they truly are in a world, with what each lot alone decides left open."""
    found = []
    for model in models:
        parts = []
        for one in model.components:
            chance = world.odds[model.key, one.slug]
            odds = Odds(one.odds.key, 1e7 * chance + 1e-3, 1e7 * (1 - chance) + 1e-3)
            routes = tuple(
                replace(route, chance=world.routes.get(route.key, 1.0)) for route in one.routes
            )
            parts.append(replace(one, odds=odds, routes=routes))
        price = replace(
            model.market.price,
            mean=model.market.price.mean * world.prices[model.key],
            level_sd=world.market_sd,
        )
        market = replace(model.market, price=price)
        found.append(replace(model, components=tuple(parts), market=market))
    return found


def test_machines_that_were_sold_tell_their_prices():
    world, source = a_world()
    shop = new_shop(world)
    offered = draw_offer(world, source)
    believed = lot_of(offered, shop.models, assumptions_of([(0.3, 0.3)]))
    came = what_came(world, offered, believed)
    assert len(came.outcomes) == len(offered.models)
    for key, ratios in came.ratios.items():
        truth = world.prices[key] * offered.market
        assert np.mean(ratios) == pytest.approx(truth, rel=4 * 0.12 / np.sqrt(len(ratios)))
