"""Properties of friction, current and odds; rules of thumb are common practice, no published
source."""

from math import isclose

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from units.inspections.domain.measures.friction import (
    friction,
    ratio,
    taken_alike,
    watts_expected,
)
from units.inspections.domain.measures.odds import Populations, odds_of

coefficients = st.floats(0.05, 0.8)
walkers = st.floats(30, 180)
speeds = st.floats(0.2, 5)
shares = st.floats(0.001, 0.2)
AMONG = Populations(new=0.194, worn=0.36, spread=0.24, threshold=0.30, before=0.5)


@given(coefficients, st.floats(0, 400), st.floats(0.4, 1), walkers, speeds)
def test_from_friction_to_watts_and_back(mu, idle, efficiency, walker, speed):
    watts = watts_expected(mu, idle, efficiency, walker, speed)
    assert isclose(friction(watts, idle, efficiency, walker, speed), mu, rel_tol=1e-6)


@given(shares, shares)
def test_a_less_certain_input_makes_a_less_certain_friction(one, other):
    less, more = sorted([one, other])

    def found(share):
        return friction(ufloat(400, 400 * share), 100.0, ufloat(0.7, 0.06), ufloat(80, 1), 1.3)

    assert found(less).std_dev <= found(more).std_dev


@given(coefficients, coefficients, walkers, speeds)
def test_more_friction_draws_more(one, other, walker, speed):
    low, high = sorted([one, other])
    at = (100, 0.7, walker, speed)
    assert watts_expected(low, *at) <= watts_expected(high, *at)


@given(coefficients, coefficients, st.floats(0.01, 0.5), st.floats(0.05, 0.95))
def test_more_friction_never_speaks_for_less_wear(one, other, share, before):
    among = Populations(0.194, 0.36, 0.24, 0.30, before)
    low, high = (odds_of(value, value * share, among) for value in sorted([one, other]))
    assert low.worn <= high.worn + 1e-12
    assert low.beyond <= high.beyond + 1e-9


@given(coefficients, st.floats(0.001, 0.5))
def test_odds_are_chances(value, share):
    found = odds_of(value, value * share, AMONG)
    assert 0 <= found.worn <= 1
    assert 0 <= found.beyond <= 1


def test_a_measurement_that_tells_nothing_leaves_the_chance_from_before():
    assert odds_of(0.26, 1000, AMONG).worn == pytest.approx(0.5, abs=0.01)


def test_halfway_between_two_populations_of_one_spread_the_chance_stays_as_it_was():
    # Closed form: the likelihoods are equal at the geometric mean.
    assert odds_of((0.194 * 0.36) ** 0.5, 0.02, AMONG).worn == pytest.approx(0.5)


def test_nothing_drawn_beyond_idle_is_not_worn():
    assert odds_of(0.0, 0.02, AMONG).worn < 0.5
    assert odds_of(-0.01, 0.02, AMONG).worn < 0.5


def test_a_value_known_exactly_lies_beyond_the_threshold_or_not():
    assert odds_of(0.31, 0, AMONG).beyond == pytest.approx(1)
    assert odds_of(0.29, 0, AMONG).beyond == pytest.approx(0)


@given(coefficients, coefficients, st.floats(50, 300), walkers, speeds)
def test_the_ratio_to_a_baseline_is_that_of_the_frictions(now, then, idle, walker, speed):
    drawn = [watts_expected(mu, idle, 0.7, walker, speed) for mu in (now, then)]
    assert isclose(ratio(drawn[0], idle, drawn[1], idle), now / then, rel_tol=1e-6)


@pytest.mark.parametrize(
    ("speed", "walker", "alike"),
    [(1.0, 80, True), (1.04, 83, True), (1.06, 80, False), (1.0, 75, False)],
)
def test_readings_are_alike_when_speed_and_walker_are_within_the_share(speed, walker, alike):
    assert taken_alike((1.0, 80), (speed, walker), 0.05) is alike
