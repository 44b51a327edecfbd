"""What like machines fetched. The closed form is held against the posterior worked out on a grid
(Bayes' theorem by brute force with numpy) and against limits that are known without it."""

import tomllib
from dataclasses import replace
from decimal import Decimal
from math import exp, log
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.floor.domain.worth import Belief, Like, Sold, read_belief, whole, worth_of

BELIEF = Belief(
    middle={"treadmill": {"light": 900.0, "commercial": 1600.0}},
    worth_sales=2.0,
    model_worth_sales=3.0,
    spread=0.3,
    yearly_loss=0.12,
    usual_age=5,
)
MINE = Like(model=1, kind="treadmill", grade="light", age=None)


def sold(*prices, model=1, kind="treadmill", grade="light", age=None):
    return [Sold(Like(model, kind, grade, age), Decimal(price)) for price in prices]


def test_without_a_sale_the_belief_stands_and_says_so():
    worth = worth_of(MINE, [], BELIEF)
    assert (worth.middle, worth.of_model, worth.of_kind, worth.believed) == (900, 0, 0, True)
    assert worth.low < worth.middle < worth.high


def test_where_nothing_is_known_nothing_is_said():
    assert worth_of(Like(1, "rower", "light", None), [], BELIEF) is None


def test_of_a_grade_nobody_wrote_down_the_lowest_belief_counts():
    assert worth_of(replace(MINE, grade=""), [], BELIEF).middle == 900


def test_without_a_belief_the_sales_alone_speak():
    rower = Like(1, "rower", "light", None)
    worth = worth_of(rower, sold("400", "400", kind="rower"), BELIEF)
    assert (worth.middle, worth.of_model, worth.believed) == (400, 2, False)


def test_other_kinds_and_grades_say_nothing():
    others = sold("5000", grade="commercial") + sold("9", kind="rower")
    assert worth_of(MINE, others, BELIEF) == worth_of(MINE, [], BELIEF)


def test_the_mean_is_drawn_to_the_belief_by_the_numbers_of_sales():
    # One sale of its own against a belief that counts as three: exp((ln 900 * 3 + ln 450) / 4).
    expected = exp((3 * log(900) + log(450)) / 4)
    assert worth_of(MINE, sold("450"), BELIEF).middle == whole(expected)


def test_many_sales_of_the_model_outweigh_everything():
    worth = worth_of(MINE, sold(*["450"] * 5000), BELIEF)
    assert worth.middle == 450
    # What is left is the spread of one price: 10 % lie below exp(-1.2816 * 0.3).
    assert float(worth.low) == pytest.approx(450 * exp(-1.2816 * 0.3), abs=1)


def test_a_year_of_age_takes_its_share():
    young, old = (worth_of(replace(MINE, age=age), [], BELIEF).middle for age in (2, 8))
    assert (young, old) == (whole(900 * exp(0.36)), whole(900 * exp(-0.36)))


def test_a_sale_is_brought_to_the_usual_age_first():
    aged = sold(str(whole(900 * exp(-0.60))), age=10)
    assert worth_of(MINE, aged, BELIEF).middle in (899, 900, 901)


prices = st.lists(st.integers(100, 4000), max_size=6)


@given(prices, prices)
def test_the_closed_form_is_the_posterior_of_the_grid(own, others):
    """Two stages on a grid: the kind's mean from the belief and the other models' sales, then the
    model's from that mean and its own sales, its weight being that of a prior."""
    found = worth_of(MINE, sold(*map(str, own)) + sold(*map(str, others), model=2), BELIEF)
    kind = posterior(log(900), 0.3 / 2**0.5, others)
    model = posterior(kind, 0.3 / 3**0.5, own)
    assert float(found.middle) == pytest.approx(exp(model), rel=0.003, abs=1)


def posterior(mean, sd, values):
    grid = np.linspace(log(30), log(12000), 40001)
    weight = -((grid - mean) ** 2) / (2 * sd**2)
    for value in values:
        weight -= (log(value) - grid) ** 2 / (2 * 0.3**2)
    weight = np.exp(weight - weight.max())
    return float((grid * weight).sum() / weight.sum())


@given(st.lists(st.integers(100, 4000), min_size=1, max_size=8))
def test_what_it_would_fetch_lies_between_the_belief_and_the_sales(own):
    middle = float(worth_of(MINE, sold(*map(str, own)), BELIEF).middle)
    assert min(*own, 900) - 1 <= middle <= max(*own, 900) + 1


def test_the_reference_table_is_read_whole():
    path = Path(__file__).parents[4] / "fixtures" / "reference" / "worth.toml"
    belief = read_belief(tomllib.loads(path.read_text()))
    assert len(belief.middle) == 8
    assert all(set(of) == {"residential", "light", "commercial"} for of in belief.middle.values())
