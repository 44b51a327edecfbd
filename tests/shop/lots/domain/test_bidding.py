import json
from dataclasses import replace

import numpy as np
import pytest

from shop.lots.domain.bidding import Conditions, bid_of
from shop.lots.domain.inputs import Goods, Machine, Market, Price, Route
from shop.lots.domain.prices import Terms, break_even, profit_at
from shop.lots.domain.recording import (
    conditions_as_plain,
    conditions_of_plain,
    figures_of,
    lot_as_plain,
    lot_of_plain,
    other_versions,
    versions,
)
from shop.lots.domain.valuing import limit_of, value_lot
from tests.shop.lots.domain.building import component, lot, model

TERMS = Terms(0.35, 0.8)
FEW = Conditions(terms=TERMS, seed=3, draws=2048)


def offered(**more):
    """Three treadmills whose board may be had or not, and some plates."""
    routes = (Route("maker", 0.5, 150.0, "Corvane"),)
    board = component("board", 0.4, routes=routes, minutes=40.0)
    market = Market(Price(900.0, 0.2, 0.1), 2.0, 0.95, 0.1, 0.4)
    treadmill = model(board, market=market, disposal=15.0, scrap=10.0)
    plates = Goods("plates", 400.0, Price(0.7, 0.3), pieces=8)
    return lot(treadmill, treadmill, treadmill, goods=(plates,), **more)


def test_a_bid_has_the_prices_of_its_draws():
    valued = value_lot(offered(), seed=3, draws=2048)
    bid = bid_of(offered(), FEW)
    assert bid.limit == limit_of(valued, TERMS)
    assert bid.break_even == break_even(valued.back, valued.costs)
    assert bid.price == bid.limit.amount
    assert bid.profit == profit_at(valued.back, valued.costs, bid.price)
    assert bid.met >= TERMS.odds
    assert bid.opening.offer <= bid.limit.amount


def test_with_an_ask_the_profit_is_that_at_the_ask():
    bid = bid_of(offered(), replace(FEW, asked=500.0))
    gift = bid_of(offered(), replace(FEW, asked=0.0))
    assert bid.price == 500.0
    assert {at: value + 500 for at, value in bid.profit.items()} == pytest.approx(gift.profit)
    assert bid.met < gift.met


def test_fates_of_a_model_add_up_and_its_machines_are_counted():
    (row,) = bid_of(offered(), FEW).fated
    assert row.count == 3
    assert sum(row.fates) == pytest.approx(1.0)


def test_the_picture_of_the_profit_leaves_out_a_hundredth_on_each_side():
    bid = bid_of(offered(), FEW)
    assert len(bid.profits.x) == len(bid.profits.y) + 1
    assert sum(bid.profits.y) == pytest.approx(0.98, abs=0.005)


def test_the_odds_fall_with_the_price_and_meet_the_terms_at_the_most_to_pay():
    bid = bid_of(offered(), FEW)
    assert np.all(np.diff(bid.odds.y) <= 0)
    assert np.interp(bid.limit.amount, bid.odds.x, bid.odds.y) == pytest.approx(0.8, abs=0.03)


def test_machines_not_run_count_apart_where_the_owner_takes_them_by_odds():
    board = component("board", 0.1)
    one = model(board, market=Market(Price(900.0), 1.0), disposal=10.0, scrap=20.0)
    still = replace(lot(one), machines=(Machine("u0", one, ran=False),))
    dared = replace(still, machines=(Machine("u0", one, ran=False, by_odds=True),))
    assert bid_of(still, FEW).by_odds == 0
    assert bid_of(still, FEW).limit.exact < 50
    bid = bid_of(dared, FEW)
    assert bid.by_odds == pytest.approx(bid.limit.exact - bid_of(still, FEW).limit.exact)
    assert bid.by_odds > 300


def test_a_lot_that_is_worth_nothing_has_no_opening_and_asks_nothing():
    bid = bid_of(lot(model(component("deck", 0.5), price=10.0)), FEW)
    assert bid.opening is None
    assert bid.advice == ()
    assert bid.limit.not_even_as_a_gift


def test_what_was_kept_is_reckoned_again_to_the_same_figures():
    kept = json.loads(json.dumps([lot_as_plain(offered()), conditions_as_plain(FEW)]))
    again = bid_of(lot_of_plain(kept[0]), conditions_of_plain(kept[1]))
    assert figures_of(again) == figures_of(bid_of(offered(), FEW))
    assert lot_of_plain(kept[0]) == offered()


def test_figures_are_plain_and_to_the_cent():
    figures = json.loads(json.dumps(figures_of(bid_of(offered(), FEW))))
    assert set(figures["profit"]) == {"p10", "p50", "p90"}
    assert figures["most_to_pay"] == round(figures["most_to_pay"], 2)
    assert {"model", "worth", "minutes"} <= figures["calls_first"][0].keys()


@pytest.mark.parametrize("seed", range(6))
def test_no_opening_is_a_cent_above_the_most_to_pay(seed):
    figures = figures_of(bid_of(offered(), replace(FEW, seed=seed, asked=5000.0)))
    assert 0 < figures["opening"] <= figures["most_to_pay"]


def test_the_versions_that_differ_are_named():
    assert other_versions(versions()) == {}
    assert other_versions({**versions(), "numpy": "1.0"}) == {"numpy": ("1.0", versions()["numpy"])}
