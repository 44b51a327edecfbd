from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from shop.lots.domain.prices import (
    Limit,
    Terms,
    break_even,
    most_to_pay,
    odds_at,
    opening,
    profit_at,
)
from shop.lots.domain.reserve import LogNormalReserve, TriangularReserve

money = st.floats(0, 5000).map(lambda value: round(value, 2))


@given(
    st.lists(st.tuples(money, money), min_size=1, max_size=40),
    st.floats(0, 1.5),
    st.sampled_from([0.5, 0.8, 0.9, 0.975]),
)
def test_the_most_to_pay_is_the_largest_price_that_meets_the_margin_often_enough(
    draws, margin, odds
):
    """The definition itself, tried at the price and just above it."""
    back, costs = np.array(draws).T

    def met(price):
        bearable = back / (1 + margin) - costs
        return (bearable >= price - 1e-9).mean()

    limit = most_to_pay(back, costs, Terms(margin, odds))
    assert met(limit.exact) >= odds - 1e-9
    assert met(limit.exact + 1e-6) < odds


def test_the_margin_is_profit_over_all_that_was_laid_out():
    """By hand: 1,350 back and 200 costs bear 800: (1350 - 200 - 800) / 1000 = 0.35."""
    limit = most_to_pay(np.array([1350.0] * 5), np.array([200.0] * 5), Terms(0.35, 0.8))
    assert limit.exact == pytest.approx(800)
    assert limit.in_money == Decimal("800.00")


def test_a_limit_below_nothing_is_nothing_and_says_so():
    limit = most_to_pay(np.array([100.0, 120.0]), np.array([300.0, 300.0]), Terms(0.35, 0.8))
    assert limit.amount == 0
    assert limit.not_even_as_a_gift
    assert limit.in_money == 0


def test_a_limit_in_money_is_rounded_down():
    assert Limit(812.349, 1.0).in_money == Decimal("812.34")


def test_the_error_of_a_limit_is_how_far_it_strays_from_seed_to_seed():
    """Against the spread over 400 sets of draws, and the asymptotic formula of a quantile's error,
    sqrt(q (1 - q) / n) / f (scipy's normal density)."""
    sets = np.random.default_rng(3).normal(1000, 200, (400, 4000))
    limits = [most_to_pay(one, np.zeros(4000), Terms(0.0, 0.8)) for one in sets]
    spread = np.std([one.exact for one in limits])
    formula = np.sqrt(0.16 / 4000) / stats.norm(1000, 200).pdf(stats.norm(1000, 200).ppf(0.2))
    assert np.mean([one.error for one in limits]) == pytest.approx(formula, rel=0.1)
    assert spread == pytest.approx(formula, rel=0.12)


def test_break_even_is_the_mean_of_what_is_left():
    estimate = break_even(np.array([10.0, 20.0, 30.0]), np.array([1.0, 2.0, 3.0]))
    assert estimate.value == 18
    assert estimate.error == pytest.approx(np.std([9, 18, 27]) / np.sqrt(3))


def test_profit_by_percentile():
    back = np.arange(0, 1001, dtype=float)
    assert profit_at(back, np.full(1001, 100.0), 50.0) == {10: -50, 50: 350, 90: 750}


def test_the_odds_at_the_most_to_pay_are_those_that_were_wanted():
    draws = np.random.default_rng(4).normal(1000, 200, 5000)
    terms = Terms(0.3, 0.8)
    limit = most_to_pay(draws, np.full(5000, 50.0), terms)
    odds = odds_at(draws, np.full(5000, 50.0), terms, np.array([0, limit.exact, 1e6]))
    assert odds[1] == pytest.approx(0.8, abs=1e-3)
    assert odds[2] == 0


def test_the_opening_is_the_offer_of_the_greatest_expected_profit():
    """Closed form: for a reserve spread evenly over 0 to 1,000 (the mode of a triangle moved to
    neither side is not even, so a rising triangle is taken): F = (p / h)^2 and the best offer of a
    lot worth v is 2 v / 3."""
    first = opening(900.0, Limit(5000.0, 1.0), TriangularReserve(0.0, 1000.0, 1000.0))
    assert first.offer == pytest.approx(600, abs=5000 / 800)
    assert first.taken == pytest.approx(0.36, abs=0.01)
    assert first.profit == pytest.approx(108, abs=0.5)


def test_the_opening_never_exceeds_the_most_to_pay():
    first = opening(900.0, Limit(400.0, 1.0), TriangularReserve(0.0, 1000.0, 1000.0))
    assert first.offer == 400
    nothing = opening(900.0, Limit(-5.0, 1.0), LogNormalReserve(500.0, 0.3))
    assert (nothing.offer, nothing.taken) == (0, pytest.approx(0, abs=1e-5))


@pytest.mark.parametrize(("margin", "odds"), [(-1, 0.8), (0.3, 0), (0.3, 1)])
def test_terms_that_mean_nothing_are_refused(margin, odds):
    with pytest.raises(ValueError, match=r"margin|odds"):
        Terms(margin, odds)
