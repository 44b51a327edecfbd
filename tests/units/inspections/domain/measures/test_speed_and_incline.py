"""Speed and incline against closed forms and scipy."""

from math import degrees, pi, sqrt, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats
from uncertainties import ufloat

from units.inspections.domain.measures.incline import angle, grade, reach
from units.inspections.domain.measures.speed import (
    belt_speed,
    roller_rate,
    roller_speed,
    speed_errors,
)


def test_a_belt_of_three_metres_that_comes_by_twenty_times_a_minute():
    assert belt_speed(3.0, 20, 60) == pytest.approx(1.0)


def test_a_roller_of_fifty_millimetres_at_sixty_turns_a_minute():
    # Closed form: one circumference a second; the belt's middle lies half its thickness outside.
    assert roller_speed(60, 0.050) == pytest.approx(pi * 0.050)
    assert roller_speed(60, 0.050, 0.002) == pytest.approx(pi * 0.052)


def test_a_drive_of_four_to_one():
    assert roller_rate(4000, 25, 100) == pytest.approx(1000)


@given(st.floats(500, 5000), st.floats(10, 60), st.floats(40, 150), st.floats(0.03, 0.1))
def test_by_the_drive_and_by_turns_is_one_speed(rpm, motor, roller, diameter):
    rate = roller_rate(rpm, motor, roller)
    assert roller_speed(rate, diameter) == pytest.approx(belt_speed(pi * diameter, rate, 60.0))


def test_the_uncertainty_of_a_speed_by_turns_by_hand():
    # A product of powers: relative variances add.
    speed = belt_speed(ufloat(3, 0.01), 20, ufloat(60, 0.3))
    assert speed.std_dev / speed.nominal_value == pytest.approx(sqrt((0.01 / 3) ** 2 + 0.005**2))


POINTS = [(1.0, 0.97), (2.0, 1.91), (3.0, 2.92), (4.0, 3.83)]


def test_offset_and_slope_are_those_of_scipy():
    found = speed_errors([(ufloat(x, 0.01), ufloat(y, 0.02)) for x, y in POINTS])
    line = stats.linregress(*zip(*POINTS, strict=True))
    assert found.slope.nominal_value == pytest.approx(line.slope)
    assert found.offset.nominal_value == pytest.approx(line.intercept)


def test_the_slope_is_as_uncertain_as_the_textbook_says():
    # Closed form for exact shown speeds: s / sqrt(sum of squared distances from the middle).
    found = speed_errors([(ufloat(x, 1e-12), ufloat(y, 0.02)) for x, y in POINTS])
    assert found.slope.std_dev == pytest.approx(0.02 / sqrt(5))


def test_the_worst_error_is_the_greatest_by_size_with_its_sign():
    found = speed_errors([(ufloat(x, 0.01), ufloat(y, 0.02)) for x, y in [(1, 1.02), (2, 2.2)]])
    assert found.worst.nominal_value == pytest.approx(-0.1)


def test_one_speed_alone_gives_no_line():
    found = speed_errors([(ufloat(1, 0.01), ufloat(1, 0.02))] * 2)
    assert (found.slope, found.offset) == (None, None)


def test_percent_and_degrees_of_a_slope():
    assert grade(0.1, 1.0) == pytest.approx(0.1)
    assert tan(angle(0.1, 1.0) / degrees(1)) == pytest.approx(0.1)
    assert angle(1.0, 1.0) == pytest.approx(45)


def test_half_of_the_stated_range_is_reached():
    assert reach(0.01, 0.07, 0.12) == pytest.approx(0.5)
