"""The whole valuation against closed forms, full convolution and full enumeration."""

import itertools
from dataclasses import replace

import numpy as np
import pytest
from scipy import signal

from shop.lots.domain.haul import haul_of
from shop.lots.domain.inputs import Goods, Load, Lot, Machine, Odds, Price, Route, Site
from shop.lots.domain.looking import look
from shop.lots.domain.prices import Terms, break_even
from shop.lots.domain.valuing import limit_of, revalue, value_lot, worth_by_odds
from tests.shop.lots.domain.building import component, lot, model, plain

DRAWS = 40_000
COSTS, CHANCES = (40.0, 75.0, 120.0, 210.0, 330.0), (0.6, 0.35, 0.2, 0.1, 0.03)
TERMS = Terms(margin=0.25, odds=0.8)


def independent(machines=6) -> Lot:
    """Machines whose components all fail independently, each sold for 2,000 once put right."""
    kinds = [
        model(
            *[
                replace(
                    component(f"c{at}", 0.5, cost), odds=Odds(f"{key}:{at}", p * 1e7, (1 - p) * 1e7)
                )
                for at, (cost, p) in enumerate(zip(COSTS, CHANCES, strict=True))
            ],
            key=f"T{key}",
            price=2000.0,
        )
        for key in range(machines)
    ]
    return lot(*kinds, assumptions=plain(haul=FREE))


FREE = replace(plain().haul, truck_fixed=0.0, truck_per_km=0.0, person_rate=0.0)


def test_mean_and_variance_of_the_independent_case():
    """Closed form: sums of ``cost p`` and of ``cost^2 p (1 - p)``, within four standard errors."""
    one = value_lot(independent(), seed=8, draws=DRAWS)
    costs, chances = np.tile(COSTS, 6), np.tile(CHANCES, 6)
    mean, variance = (costs * chances).sum(), (costs**2 * chances * (1 - chances)).sum()
    assert one.back == pytest.approx(12_000)
    assert one.costs.mean() == pytest.approx(mean, abs=4 * np.sqrt(variance / DRAWS))
    fourth = ((one.costs - mean) ** 4).mean()
    error = np.sqrt((fourth - variance**2) / DRAWS)
    assert one.costs.var() == pytest.approx(variance, abs=4 * error)


def test_the_whole_distribution_of_the_independent_case():
    """Full convolution by scipy.signal: the distribution function within the Kolmogorov bound of
    one in 10,000 (2.23 / sqrt(draws)), and the most to pay within four of its errors."""
    one = value_lot(independent(), seed=8, draws=DRAWS)
    exact = np.ones(1)
    for cost, chance in zip(COSTS * 6, CHANCES * 6, strict=True):
        step = np.zeros(int(cost) + 1)
        step[0], step[-1] = 1 - chance, chance
        exact = signal.convolve(exact, step)
    below = np.cumsum(exact)
    found = np.searchsorted(np.sort(one.costs), np.arange(len(below)) + 0.01, side="right") / DRAWS
    assert np.abs(found - below).max() < 2.23 / np.sqrt(DRAWS)
    bearable = 12_000 / 1.25 - np.searchsorted(below, TERMS.odds)
    limit = limit_of(one, TERMS)
    assert limit.exact == pytest.approx(bearable, abs=4 * limit.error)
    assert 0 < limit.error < 10


ROUTES = (Route("maker", 0.6, 150.0), Route("rebuild", 0.5, 420.0))


def four() -> Lot:
    """Two machines of each of two models; one board that is not always to be had."""
    board = component("board", 0.5, minutes=30.0, routes=ROUTES)
    first = model(board, component("belt", 0.3, 260.0, minutes=60.0), price=700.0, disposal=30.0)
    deck = component("deck", 0.4, 380.0, minutes=75.0, spare=140.0, safety=True)
    second = model(deck, component("grip", 0.2, 60.0), key="T7", price=420.0, disposal=30.0)
    first, second = (
        replace(one, market=replace(one.market, falls=0.8, months=1.0, slows=0.5))
        for one in (first, second)
    )
    return lot(
        first, second, first, second,
        assumptions=plain(storage=9.0, money=0.01, as_is_share=0.55, as_is_takes=0.5, haul=FREE),
    )  # fmt: skip


def enumerated(one: Lot):
    """Every state of the lot of four in plain Python: chance, back and costs of each."""
    slugs = [(at, part) for at, m in enumerate(one.machines) for part in m.model.components]
    chances = [part.odds.alpha / (part.odds.alpha + part.odds.beta) for _, part in slugs]
    for maker, rebuild in itertools.product((True, False), repeat=2):
        had = (0.6 if maker else 0.4) * 0.5
        board = 150.0 if maker else 420.0 if rebuild else None
        for state in itertools.product((True, False), repeat=len(slugs)):
            chance = had * np.prod([p if s else 1 - p for p, s in zip(chances, state, strict=True)])
            fails = [[] for _ in one.machines]
            for (at, part), failed in zip(slugs, state, strict=True):
                if failed:
                    fails[at].append(part)
            yield chance, *by_hand(one, fails, board)


def by_hand(one: Lot, fails, board):
    base, sold, back, costs = one.assumptions, {}, 0.0, 0.0
    for machine, failed in zip(one.machines, fails, strict=True):
        kind = machine.model
        before = sold.get(kind.key, 0)
        prices = [board if part.slug == "board" else part.routes[0].cost for part in failed]
        price = kind.market.price.mean * kind.market.falls**before
        months = kind.market.months * (1 + kind.market.slows * before)
        sound = [part.spare for part in kind.components if part not in failed]
        ways = [(sum(sound), 0.0, 0), (kind.scrap, kind.disposal, 0)]
        if None not in prices:
            bill = sum(prices) + sum(part.minutes for part in failed) / 60 * base.bench_rate
            as_is = max(base.as_is_share * price - base.as_is_takes * bill, 0)
            ways.append((price, bill + months * (base.storage + base.money * price), 1))
            if not any(part.safety for part in failed):
                ways.append((as_is, months * (base.storage + base.money * as_is), 1))
        came, cost, more = max(ways, key=lambda way: way[0] - way[1])
        sold[kind.key] = before + more
        back, costs = back + came, costs + cost
    return back, costs


@pytest.fixture(scope="module")
def every_state():
    return np.array(list(enumerated(four()))).T


def test_a_lot_of_four_against_every_state_there_is(every_state):
    """1,024 states; means within four standard errors, the most to pay within four of its own."""
    chance, back, costs = every_state
    assert chance.sum() == pytest.approx(1)
    one = value_lot(four(), seed=12, draws=DRAWS)
    for found, exact in ((one.back, back), (one.costs, costs)):
        mean = chance @ exact
        error = np.sqrt(chance @ (exact - mean) ** 2 / DRAWS)
        assert found.mean() == pytest.approx(mean, abs=4 * error)
    bearable = back / (1 + TERMS.margin) - costs
    falling = np.argsort(-bearable)
    enough = np.searchsorted(np.cumsum(chance[falling]), TERMS.odds)
    limit = limit_of(one, TERMS)
    assert limit.exact == pytest.approx(bearable[falling][enough], abs=4 * limit.error + 0.01)


def spread_of(one: Lot) -> tuple[Machine, ...]:
    """The same machines with prices and times that are far from certain."""
    spread = []
    for machine in one.machines:
        market = machine.model.market
        price = replace(market.price, level_sd=0.2, own_sd=0.2)
        market = replace(market, price=price, months_sd=0.4)
        spread.append(replace(machine, model=replace(machine.model, market=market)))
    return tuple(spread)


def test_uncertain_prices_leave_the_mean_of_the_lot_of_four(every_state):
    """Prices are expected when a fate is chosen, so their spread changes no choice and no mean."""
    chance, back, costs = every_state
    one = value_lot(replace(four(), machines=spread_of(four())), seed=13, draws=DRAWS)
    expected = break_even(one.back, one.costs)
    assert expected.value == pytest.approx(chance @ (back - costs), abs=4 * expected.error)


def test_the_same_seed_gives_the_same_figures():
    first, second = (value_lot(four(), seed=5, draws=6000) for _ in range(2))
    assert np.array_equal(first.net, second.net)
    assert not np.array_equal(first.net, value_lot(four(), seed=6, draws=6000).net)


def test_leaving_one_out_is_valuing_the_others():
    full = four()
    one = value_lot(full, seed=5, draws=6000)
    rest = replace(full, machines=full.machines[:1] + full.machines[2:])
    without = revalue(full, one.looked, without={"u1"})
    assert np.array_equal(without.net, value_lot(rest, seed=5, draws=6000).net)


def test_the_haul_is_reckoned_for_what_is_left():
    far = replace(four(), site=Site(80.0, 12), assumptions=plain(), other_costs=40.0)
    one = value_lot(far, seed=5, draws=2000)
    rest = revalue(far, one.looked, without={"u0", "u1"})
    assert one.costs[0] == pytest.approx(one.settled.costs[0] + one.haul.cost + 40)
    assert rest.haul.hours < one.haul.hours
    assert rest.costs[0] == pytest.approx(rest.settled.costs[0] + rest.haul.cost + 40)


def test_what_rests_on_machines_that_were_not_run_is_told_apart():
    kind = model(component("belt", 0.1), disposal=0.0, scrap=50.0, strip_minutes=60.0)
    machines = (Machine("ran", kind), Machine("stood", kind, ran=False, by_odds=True))
    one = value_lot(Lot(machines, plain(haul=FREE)), seed=5, draws=4000)
    # By hand: at least four in five draws find both sound, then 900 more instead of 50.
    assert worth_by_odds(one, TERMS) == pytest.approx((900 - 50) / 1.25)


def test_goods_are_carried_in_their_pieces():
    plates = Goods("plates", 400.0, Price(2.0), pieces=20, load=Load(20.0, 0.1))
    one = value_lot(Lot((), plain(), (plates,), site=Site(10.0, 0)), seed=1, draws=100)
    assert one.haul == haul_of([Load(20.0, 0.1)] * 20, Site(10.0, 0), plain().haul)


def test_a_lot_of_goods_alone_has_a_worth():
    plates = Goods("plates", 100.0, Price(2.0))
    one = value_lot(Lot((), plain(haul=FREE), (plates,)), seed=1, draws=500)
    assert limit_of(one, TERMS).exact == pytest.approx(200 / 1.25)


def test_two_things_with_one_key_are_refused():
    kind = model(component("belt"))
    with pytest.raises(ValueError, match="one key"):
        Lot((Machine("u1", kind), Machine("u1", kind)), plain())


def test_draws_that_fill_no_block_are_as_many_as_asked_for():
    one = value_lot(four(), seed=5, draws=777)
    assert len(one.net) == 777
    assert look(four(), 777, 5).parts.shape[0] == 4
