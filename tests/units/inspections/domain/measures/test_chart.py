"""The chart's ground: round levels from zero, and every point inside it."""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from units.inspections.domain.measures.chart import (
    BOTTOM,
    HEIGHT,
    LEFT,
    RIGHT,
    TOP,
    WIDTH,
    draw,
    nice_step,
)

DAY = datetime(2026, 10, 5, 9, tzinfo=UTC)


@pytest.mark.parametrize(
    ("span", "step"), [(4, 1), (4.1, 2), (9, 5), (20, 5), (21, 10), (0.3, 0.1), (4000, 1000)]
)
def test_a_step_is_one_two_or_five_times_a_power_of_ten(span, step):
    assert nice_step(span) == pytest.approx(step)


rows = st.lists(
    st.tuples(st.integers(0, 4000), st.floats(-500, 5000), st.floats(0, 100)),
    min_size=1,
    max_size=20,
)


@given(rows)
def test_every_point_with_its_uncertainty_lies_inside(found):
    told = [(DAY + timedelta(days=day), value, doubt) for day, value, doubt in sorted(found)]
    chart = draw(told)
    for spot in chart.spots:
        assert LEFT <= spot.x <= WIDTH - RIGHT
        assert TOP - 0.1 <= spot.top <= spot.y <= spot.foot <= HEIGHT - BOTTOM + 0.1
    assert 2 <= len(chart.levels) <= 7
    assert any(level.value == 0 for level in chart.levels)


def test_a_higher_value_stands_higher_and_a_later_one_further_right():
    first, last = draw([(DAY, 2.0, 0), (DAY + timedelta(days=9), 4.0, 0)]).spots
    assert first.x < last.x
    assert first.y > last.y


def test_one_instant_stands_in_the_middle():
    (spot,) = draw([(DAY, 0.0, 0.0)]).spots
    assert spot.x == LEFT + (WIDTH - LEFT - RIGHT) / 2
