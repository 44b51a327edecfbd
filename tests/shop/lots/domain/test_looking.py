from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from shop.lots.domain.inputs import Lot, Machine, Odds, Route, Rule
from shop.lots.domain.looking import NO_ROUTE, Plan, look, states
from tests.shop.lots.domain.building import component, lot, model, plain

DRAWS = 40_000


def fails_of(one: Lot, draws=DRAWS, seed=5):
    """Components by draws of every machine, machines of one model only."""
    plan = Plan.of(one, draws, seed)
    shape = (len(one.machines), len(one.machines[0].model.components), plan.padded)
    found = np.empty(shape, bool)
    for seen in states(plan, one.machines):
        found[:, :, seen.at] = seen.fails
    return found


def bound(chance, draws=DRAWS):
    """Four standard errors of a share."""
    return 4 * np.sqrt(chance * (1 - chance) / draws)


@pytest.mark.parametrize("chance", [0.003, 0.05, 0.4, 0.97])
def test_components_fail_as_often_as_their_odds_say(chance):
    one = lot(model(component("belt", chance)), assumptions=plain(dependence=((0.5, 0.5),)))
    assert fails_of(one).mean() == pytest.approx(chance, abs=bound(chance, DRAWS / 8))


def test_every_one_of_many_components_has_its_own_odds():
    """Binomial bounds."""
    chances = np.linspace(0.05, 0.9, 37)
    parts = [component(f"c{at}", chance) for at, chance in enumerate(chances)]
    fails = fails_of(lot(model(*parts), assumptions=plain()))[0]
    assert np.abs((fails.mean(axis=1) - chances) / bound(chances)).max() < 1


@pytest.mark.parametrize(("a", "b"), [(0.0, 0.0), (0.5, 0.0), (0.0, 0.6), (0.5, 0.6)])
def test_two_levels_of_dependence(a, b):
    """How often two fail together, against scipy's bivariate normal with the correlation
    ``a^2 + b^2`` within a machine and ``a^2`` between machines."""
    kind = model(component("belt", 0.3), component("motor", 0.2))
    fails = fails_of(lot(kind, kind, assumptions=plain(dependence=((a, b),))))
    limits = stats.norm.ppf([0.3, 0.2])
    for other, correlation in [(0, a * a + b * b), (1, a * a)]:
        both = stats.multivariate_normal([0, 0], [[1, correlation], [correlation, 1]]).cdf(limits)
        found = (fails[0, 0] & fails[other, 1]).mean()
        assert found == pytest.approx(both, abs=bound(both))


def test_pairs_of_weights_are_shared_out_over_the_draws():
    kind = model(component("belt", 0.3))
    pairs = ((0.9, 0.0), (0.0, 0.0))
    fails = fails_of(lot(kind, kind, assumptions=plain(dependence=pairs)))
    halves = [
        stats.multivariate_normal([0, 0], [[1, rho], [rho, 1]]).cdf(stats.norm.ppf([0.3, 0.3]))
        for rho in (0.81, 0.0)
    ]
    wanted = sum(halves) / 2
    assert (fails[0, 0] & fails[1, 0]).mean() == pytest.approx(wanted, abs=bound(wanted))


def test_one_shared_draw_of_the_odds_makes_a_beta_binomial():
    """Mean and variance of the count over ten machines: REFERENCE 14, n a/(a+b) and
    n a b (n+a+b)/((a+b)^2 (a+b+1)); scipy.stats.betabinom as oracle of the whole distribution."""
    belt = replace(component("belt"), odds=Odds("belt", 2.0, 6.0))
    counts = fails_of(lot(*[model(belt)] * 10)).sum(axis=(0, 1))
    n, a, b = 10, 2.0, 6.0
    variance = n * a * b * (n + a + b) / ((a + b) ** 2 * (a + b + 1))
    assert counts.mean() == pytest.approx(n * a / (a + b), abs=4 * np.sqrt(variance / DRAWS))
    assert counts.var() == pytest.approx(variance, rel=0.04)
    shares = np.bincount(counts, minlength=n + 1) / len(counts)
    wanted = stats.betabinom(n, a, b).pmf(np.arange(n + 1))
    assert np.abs(shares - wanted).max() < bound(0.2)


def test_a_shift_makes_every_component_worse():
    one = lot(model(component("belt", 0.3)), assumptions=plain(odds_shift=0.4))
    wanted = stats.norm.cdf(stats.norm.ppf(0.3) + 0.4)
    assert fails_of(one).mean() == pytest.approx(wanted, abs=bound(wanted))


def test_a_finding_replaces_the_odds():
    kind = model(component("belt", 0.3), component("motor", 0.2))
    seen = Machine("u0", kind, found={"belt": True, "motor": False})
    fails = fails_of(Lot((seen,), plain()))
    assert fails[0, 0].all()
    assert not fails[0, 1].any()


def test_a_finding_leaves_the_draws_of_everything_else():
    kind = model(component("belt", 0.3), component("motor", 0.2))
    plain_one, seen = Machine("u0", kind), Machine("u0", kind, found={"belt": True})
    fails = [fails_of(Lot((one,), plain()))[0, 1] for one in (plain_one, seen)]
    assert np.array_equal(*fails)


def test_rules_apply_after_the_draw_and_in_their_order():
    parts = [component(slug, 0.3) for slug in ("deck", "belt", "motor", "board")]
    rules = (Rule(("deck",), "belt"), Rule(("belt", "motor"), "board"))
    free = fails_of(lot(model(*parts)))[0]
    ruled = fails_of(lot(model(*parts, rules=rules)))[0]
    belt = free[1] | free[0]
    assert np.array_equal(ruled[1], belt)
    assert np.array_equal(ruled[3], free[3] | (belt & free[2]))
    assert np.array_equal(ruled[[0, 2]], free[[0, 2]])


def test_a_rule_that_names_what_a_model_lacks_says_nothing():
    parts = [component("belt", 0.3)]
    ruled = model(*parts, rules=(Rule(("deck",), "belt"),))
    assert np.array_equal(fails_of(lot(ruled)), fails_of(lot(model(*parts))))


def test_the_cheapest_open_route_is_paid_and_none_means_no_repair():
    routes = (Route("maker", 0.5, 80.0), Route("rebuild", 0.4, 200.0))
    one = lot(model(component("board", 1 - 1e-9, routes=routes)))
    parts = look(one, DRAWS, 3).parts[0]
    for cost, share in [(80.0, 0.5), (200.0, 0.5 * 0.4), (NO_ROUTE, 0.5 * 0.6)]:
        assert (parts == cost).mean() == pytest.approx(share, abs=bound(share))


def test_machines_of_a_model_share_whether_a_part_can_be_had():
    routes = (Route("maker", 0.5, 80.0),)
    kind = model(component("board", 1 - 1e-9, routes=routes))
    parts = look(lot(kind, kind), 4000, 3).parts
    sure = (parts > 0).all(axis=0)  # 16 bits let one in 65,536 pass
    assert sure.mean() > 0.99
    assert np.array_equal(parts[0, sure], parts[1, sure])


def test_minutes_spares_and_unsafe_parts_are_added_up():
    belt = component("belt", 0.3, minutes=40.0, spare=60.0)
    latch = component("latch", 0.2, minutes=20.0, spare=10.0, safety=True)
    one = lot(model(belt, latch))
    fails, seen = fails_of(one, 4000), look(one, 4000, 5)
    assert np.array_equal(seen.minutes[0], 40 * fails[0, 0] + 20 * fails[0, 1])
    assert np.array_equal(seen.spare[0], 70 - 60 * fails[0, 0] - 10 * fails[0, 1])
    assert np.array_equal(seen.unsafe[0], fails[0, 1])


def test_one_seed_gives_one_set_of_draws():
    one = lot(*[model(component("belt"), component("motor"))] * 40)
    first, second, other = look(one, 5000, 9), look(one, 5000, 9), look(one, 5000, 10)
    assert np.array_equal(first.parts, second.parts)
    assert not np.array_equal(first.parts, other.parts)


def test_leaving_one_out_leaves_the_rest_as_they_were():
    kinds = [model(component("belt"), key="T9"), model(component("belt"), key="T7")]
    full = lot(*kinds, *kinds, *kinds, assumptions=plain(dependence=((0.3, 0.4),)))
    without = replace(full, machines=full.machines[:2] + full.machines[3:])
    whole, rest = look(full, 3000, 2), look(without, 3000, 2)
    keep = [0, 1, 3, 4, 5]
    for rows in ("parts", "minutes", "spare", "unsafe", "price", "months"):
        assert np.array_equal(getattr(whole, rows)[keep], getattr(rest, rows))


def test_a_machine_without_components_has_nothing_to_put_right():
    seen = look(lot(model()), 100, 1)
    assert not seen.parts.any()
