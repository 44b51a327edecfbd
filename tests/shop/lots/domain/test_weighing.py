from dataclasses import replace

import pytest

from shop.lots.domain.assumptions import stated
from shop.lots.domain.inputs import Goods, Load, Market, Price, Site
from shop.lots.domain.prices import Terms
from shop.lots.domain.valuing import limit_of, revalue, value_lot
from shop.lots.domain.weighing import driver_draws, drivers, refusals, sorts_of
from tests.shop.lots.domain.building import component, lot, model, plain

TERMS = Terms(0.25, 0.8)


def a_lot():
    market = Market(Price(900.0, own_sd=0.2), 0.0)
    belt = component("belt", 0.35, 300.0)
    good = model(belt, market=market, load=Load(110.0, 1.5))
    bad = model(component("frame", 0.9, 2000.0), key="old", price=300.0, load=Load(400.0, 3.0))
    bad = replace(bad, disposal=80.0, strip_minutes=0.0)
    bench = Goods("benches", 4.0, Price(30.0))
    figures = plain(storage=5.0, bench_hours=90.0)
    return lot(good, good, bad, site=Site(40.0, 10), goods=(bench,), assumptions=figures)


@pytest.fixture(scope="module")
def valued():
    return value_lot(a_lot(), seed=3, draws=4000)


def test_a_machine_that_costs_more_than_it_brings_is_one_to_refuse(valued):
    found = {one.key: one for one in refusals(valued, TERMS)}
    assert found["u2"].change > 80
    assert found["u1"].change < -250
    assert found["benches"].change == pytest.approx(-120 / 1.25, rel=0.01)


def test_of_machines_that_are_alike_one_is_left_out(valued):
    like = {one.key: one.like for one in refusals(valued, TERMS)}
    assert like == {"u1": ("u0", "u1"), "u2": ("u2",), "benches": ("benches",)}


def test_a_refusal_is_the_change_of_the_limit_under_common_draws(valued):
    one = next(one for one in refusals(valued, TERMS) if one.key == "u2")
    rest = replace(a_lot(), machines=a_lot().machines[:2])
    alone = value_lot(rest, seed=3, draws=4000)
    assert one.change == pytest.approx(
        limit_of(alone, TERMS).exact - limit_of(valued, TERMS).exact, abs=1e-9
    )


def test_refusals_put_the_most_to_be_gained_first(valued):
    changes = [one.change for one in refusals(valued, TERMS)]
    assert changes == sorted(changes, reverse=True)


def test_of_many_sorts_those_that_seem_to_bring_least_are_tried(valued):
    assert len(sorts_of(valued.lot)) == 3
    assert [one.key for one in refusals(valued, TERMS, most=1)] == ["u2"]
    whole, two = refusals(valued, TERMS), refusals(valued, TERMS, most=2)
    assert two == [one for one in whole if one.key in ("u2", "benches")]


def test_a_driver_moves_one_assumption_only(valued):
    one = {driver.key: driver for driver in drivers(valued, TERMS)}
    assert set(one) == set(stated())
    lower = replace(a_lot(), assumptions=replace(a_lot().assumptions, price_factor=0.85))
    again = revalue(lower, valued.looked)
    assert one["price_factor"].low == pytest.approx(limit_of(again, TERMS).exact)
    assert one["price_factor"].low < limit_of(valued, TERMS).exact < one["price_factor"].high


def test_what_changes_the_draws_is_drawn_again_from_the_same_seed(valued):
    driver = drivers(valued, TERMS, ["odds_shift"])[0]
    worse = replace(a_lot(), assumptions=replace(a_lot().assumptions, odds_shift=0.2))
    again = value_lot(worse, seed=3, draws=4000)
    assert driver.high == pytest.approx(limit_of(again, TERMS).exact)
    assert driver.high < driver.low


def test_drivers_put_the_greatest_swing_first(valued):
    swings = [one.swing for one in drivers(valued, TERMS)]
    assert swings == sorted(swings, reverse=True)


def test_of_a_large_lot_the_drivers_are_reckoned_on_fewer_draws(valued, monkeypatch):
    """What an assumption does stays the same within the error of the draws; the limit is that of
    all."""
    whole = {one.key: one for one in drivers(valued, TERMS)}
    assert driver_draws(valued) == 4000
    monkeypatch.setattr("shop.lots.domain.weighing.DRIVEN", 0)
    assert driver_draws(valued) == 2048
    fewer = {one.key: one for one in drivers(valued, TERMS)}
    base = limit_of(valued, TERMS)
    for key, one in fewer.items():
        assert one.low == pytest.approx(whole[key].low, abs=4 * base.error)
        assert one.high == pytest.approx(whole[key].high, abs=4 * base.error)
    unmoved = [one for one in fewer.values() if whole[one.key].swing == 0]
    assert all(one.low == pytest.approx(base.exact) for one in unmoved)
