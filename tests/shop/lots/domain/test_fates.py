import itertools
from dataclasses import replace

import numpy as np
import pytest

from shop.lots.domain.fates import settle
from shop.lots.domain.inputs import FATES, Goods, Lot, Machine, Market, Price, Route
from shop.lots.domain.looking import look
from shop.lots.domain.normal import mean_one, quantiles16
from tests.shop.lots.domain.building import component, lot, model, plain

DRAWS = 4000


def settled(one: Lot, draws=DRAWS, seed=3, **how):
    return settle(one, look(one, draws, seed), **how)


def chosen(one: Lot, key="u0", **how) -> dict[str, float]:
    return dict(zip(FATES, settled(one, **how).chosen[key], strict=True))


def doubtful(**more):
    """A lot in which every exit is sometimes the best and prices are far from certain."""
    market = Market(Price(500.0, 0.3, 0.4), 2.0, falls=0.8, slows=0.3, months_sd=0.5)
    routes = (Route("maker", 0.7, 200.0),)
    parts = (
        component("belt", 0.5, routes=routes, minutes=240.0),
        component("motor", 0.3, spare=120.0),
    )
    kind = model(*parts, market=market, scrap=60.0, disposal=20.0, strip_minutes=30.0)
    figures = {
        "as_is_share": 0.6,
        "as_is_takes": 0.2,
        "storage": 10.0,
        "money": 0.01,
        "market_sd": 0.2,
    }
    figures |= {"bench_hours": 4.0, "bench_months": 1.5, "donor_falls": 0.5, **more}
    return lot(kind, kind, kind, assumptions=plain(**figures))


def test_repairing_costs_parts_bench_storage_and_money():
    """By hand: 900 back; 100 for the belt, an hour at 32, half a month's wait and two months to
    sell at 10 and 1 % of 900 each."""
    belt = component("belt", 1 - 1e-9, minutes=60.0)
    assumptions = plain(storage=10.0, money=0.01, bench_hours=2.0)
    came = settled(lot(model(belt, months=2.0), assumptions=assumptions))
    assert np.median(came.back) == pytest.approx(900)
    assert np.median(came.costs) == pytest.approx(100 + 32 + 2.5 * (10 + 9), rel=1e-5)


def test_sold_as_it_is_the_buyer_takes_off_for_faults():
    """By hand: half of 900 less 0.8 of 300."""
    belt = component("belt", 1 - 1e-9, cost=300.0)
    assumptions = plain(as_is_share=0.5, as_is_takes=0.8, bench_months=0.0, bench_hours=1e-3)
    one = lot(model(replace(belt, minutes=0.01)), assumptions=assumptions)
    assert chosen(one)["as-is"] > 0.999
    assert np.median(settled(one).back) == pytest.approx(450 - 240, rel=1e-3)


def test_a_failed_safety_part_keeps_a_machine_from_being_sold_as_it_is():
    latch = component("latch", 1 - 1e-9, cost=2000.0, safety=True)
    assumptions = plain(as_is_share=0.9, as_is_takes=0.0)
    unsafe = lot(model(latch, disposal=0.0), assumptions=assumptions)
    safe = lot(model(replace(latch, safety=False), disposal=0.0), assumptions=assumptions)
    assert chosen(unsafe)["as-is"] < 0.001
    assert chosen(safe)["as-is"] == 1


def test_without_a_route_a_machine_is_a_donor_or_scrap():
    board = component("board", 1 - 1e-9, routes=())
    belt = component("belt", 1e-9, spare=150.0)
    donor = lot(model(board, belt, strip_minutes=60.0, scrap=20.0, disposal=0.0))
    assert chosen(donor)["donor"] > 0.999
    assert np.median(settled(donor).back) == 150
    assert np.median(settled(donor).costs) == 32
    scrap = lot(model(board, scrap=20.0, disposal=50.0, strip_minutes=600.0))
    assert chosen(scrap)["scrap"] > 0.999
    assert np.median(settled(scrap).costs) == 50


def test_one_that_did_not_run_is_a_donor_or_scrap_unless_the_owner_says_otherwise():
    kind = model(component("belt", 0.1))
    for by_odds, repaired in [(False, 0.0), (True, 1.0)]:
        one = Lot((Machine("u0", kind, ran=False, by_odds=by_odds),), plain())
        assert chosen(one)["repair"] == repaired


def test_each_further_like_machine_brings_less_and_takes_longer():
    """By hand: 900, 810, 729 after one, two and three months at 10."""
    kind = model(market=Market(Price(900.0), 1.0, falls=0.9, slows=1.0))
    came = settled(lot(kind, kind, kind, assumptions=plain(storage=10.0)))
    assert came.back[0] == pytest.approx(900 + 810 + 729)
    assert came.costs[0] == pytest.approx(10 + 20 + 30)


def test_other_models_do_not_lower_the_price():
    kinds = [model(market=Market(Price(900.0), 1.0, falls=0.9), key=key) for key in ("T9", "T7")]
    assert settled(lot(*kinds)).back[0] == pytest.approx(1800)


def test_each_further_donor_is_worth_less():
    kind = model(component("belt", 1e-9, spare=100.0), scrap=0.0)
    machines = tuple(Machine(f"u{at}", kind, ran=False) for at in range(3))
    one = Lot(machines, plain(donor_falls=0.5))
    assert np.median(settled(one).back) == pytest.approx(175)


def test_what_would_wait_too_long_for_the_bench_is_not_repaired():
    belt = component("belt", 1 - 1e-9, minutes=600.0)
    kind = model(belt, disposal=0.0)
    one = lot(kind, kind, kind, assumptions=plain(bench_hours=10.0, bench_months=2.5))
    fates = settled(one).chosen
    assert [round(fates[key][0], 2) for key in ("u0", "u1", "u2")] == [1, 1, 0]


def test_factors_of_the_owner_scale_prices_parts_minutes_and_months():
    belt = component("belt", 1 - 1e-9, minutes=60.0)
    factors = {f"{word}_factor": 2.0 for word in ("price", "parts", "minutes", "months")}
    one = lot(model(belt, months=1.0), assumptions=plain(storage=10.0, **factors))
    assert np.median(settled(one).back) == pytest.approx(1800)
    assert np.median(settled(one).costs) == pytest.approx(200 + 64 + 20)


def test_goods_are_sold_by_the_measure():
    plates = Goods("plates", 400.0, Price(1.5, 0.2), months=2.0, storage=5.0)
    came = settled(lot(goods=(plates,), assumptions=plain(money=0.01)), draws=40_000)
    assert came.back.mean() == pytest.approx(600, rel=0.005)
    assert came.costs == pytest.approx(2 * (5 + 0.01 * came.back))
    assert not settled(lot(goods=(plates,)), without={"plates"}).back.any()


def test_realised_prices_have_the_expected_mean():
    kind = model(market=Market(Price(900.0, 0.3, 0.3), 1.0))
    came = settled(lot(kind, kind, assumptions=plain(market_sd=0.2)), draws=100_000)
    sd = 900 * np.sqrt(np.exp(0.3**2 + 0.3**2 + 0.2**2) - 1)
    assert came.back.mean() / 2 == pytest.approx(900, abs=4 * sd / np.sqrt(100_000))


def luck_of(one: Lot, looked):
    """Factors of price and months by machine and draw, put together once more."""
    plan, market = looked.plan, one.machines[0].model.market
    shared = mean_one(one.assumptions.market_sd, plan.normal("market"))
    shared = shared * mean_one(market.price.level_sd, plan.normal("level", "Corvane T9"))
    price = shared * mean_one(market.price.own_sd, quantiles16()[looked.price])
    return price, mean_one(market.months_sd, quantiles16()[looked.months])


def best_with_foresight(one: Lot, looked, draw: int) -> float:
    """The best of all ways of sending machines of one model, in plain Python, prices known."""
    base, kind = one.assumptions, one.machines[0].model
    price_luck, month_luck = luck_of(one, looked)
    best = -np.inf
    for fates in itertools.product(range(4), repeat=len(one.machines)):
        net, sold, donors, hours = 0.0, 0, 0, 0.0
        for at, fate in enumerate(fates):
            parts = float(looked.parts[at, draw])
            own = float(looked.minutes[at, draw]) / 60
            bill = parts + own * base.bench_rate
            price = kind.market.price.mean * kind.market.falls**sold
            months = kind.market.months * (1 + kind.market.slows * sold) * month_luck[at, draw]
            wait = (hours + own) / base.bench_hours
            if fate == 3:
                net += kind.scrap - kind.disposal
            elif fate == 2:
                net += float(looked.spare[at, draw]) * base.donor_falls**donors
                net -= kind.strip_minutes / 60 * base.bench_rate
                donors += 1
            elif parts >= 1e7 or (fate == 0 and wait > base.bench_months):
                net = -np.inf
            else:
                as_is = max(base.as_is_share * price - base.as_is_takes * bill, 0)
                came = (price if fate == 0 else as_is) * price_luck[at, draw]
                stood = months + (wait if fate == 0 else 0)
                net += came - stood * (base.storage + base.money * came)
                net -= bill if fate == 0 else 0
                hours += own if fate == 0 else 0
                sold += 1
        best = max(best, net)
    return best


def test_no_hindsight_never_beats_all_ways_with_foresight():
    one = doubtful()
    looked = look(one, 250, 6)
    came = settle(one, looked)
    net = came.back - came.costs
    best = np.array([best_with_foresight(one, looked, draw) for draw in range(250)])
    assert (net <= best + 0.01).all()
    assert (net < best - 1).mean() > 0.2  # and it is no foresight itself


def test_where_machines_do_not_touch_each_other_foresight_beats_every_draw():
    apart = doubtful(bench_hours=1e9, donor_falls=1.0)
    market = replace(apart.machines[0].model.market, falls=1.0, slows=0.0)
    kind = replace(apart.machines[0].model, market=market)
    apart = replace(apart, machines=tuple(replace(one, model=kind) for one in apart.machines))
    looked = look(apart, DRAWS, 6)
    plain_, seeing = settle(apart, looked), settle(apart, looked, foresight=True)
    gap = (seeing.back - seeing.costs) - (plain_.back - plain_.costs)
    assert (gap >= -0.01).all()
    assert (gap > 1).any()
    exact = np.array([best_with_foresight(apart, looked, draw) for draw in range(50)])
    assert (seeing.back - seeing.costs)[:50] == pytest.approx(exact, rel=1e-5, abs=0.01)


def test_where_prices_are_certain_foresight_adds_nothing():
    one = doubtful(market_sd=0.0)
    market = replace(one.machines[0].model.market, price=Price(500.0), months_sd=0.0)
    kind = replace(one.machines[0].model, market=market)
    one = replace(one, machines=tuple(replace(machine, model=kind) for machine in one.machines))
    looked = look(one, DRAWS, 6)
    plain_, seeing = settle(one, looked), settle(one, looked, foresight=True)
    assert np.array_equal(plain_.back, seeing.back)
    assert np.array_equal(plain_.costs, seeing.costs)
    assert plain_.chosen == seeing.chosen


def test_every_exit_is_chosen_where_it_is_the_best():
    shares = np.mean(list(settled(doubtful()).chosen.values()), axis=0)
    assert (shares > 0.01).all()
    assert shares.sum() == pytest.approx(1)


def test_worths_add_up_to_the_lot():
    came = settled(doubtful())
    assert sum(came.worth.values()) == pytest.approx((came.back - came.costs).mean(), rel=1e-5)
