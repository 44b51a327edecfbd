from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.front.domain.todo import SHOWN, Group, Todo, days_between, is_late, late_first

ON = date(2026, 10, 5)


def todo(days=0, late=False) -> Todo:
    return Todo("It waits.", ON - timedelta(days), days, late, "/", "See it")


@pytest.mark.parametrize(
    ("since", "days"),
    [(ON, 0), (date(2026, 10, 4), 1), (date(2026, 9, 5), 30), (date(2026, 10, 9), 0)],
)
def test_days_are_counted_and_a_day_to_come_counts_as_today(since, days):
    assert days_between(since, ON) == days


# Seven days: shop default, common practice, no published source.
@pytest.mark.parametrize(("days", "late"), [(0, False), (7, False), (8, True)])
def test_what_waited_longer_than_a_week_is_late(days, late):
    assert is_late(ON - timedelta(days), ON) is late


@pytest.mark.parametrize(
    ("promised_on", "late"), [(ON, False), (date(2026, 10, 4), True), (None, False)]
)
def test_what_was_promised_for_an_earlier_day_is_late(promised_on, late):
    assert is_late(ON, ON, promised_on) is late


def test_another_number_of_days_may_be_asked_for():
    assert not is_late(ON - timedelta(30), ON, after=30)
    assert is_late(ON - timedelta(31), ON, after=30)


def test_late_ones_stand_before_older_ones_that_are_not_late():
    old, late, young = todo(days=6), todo(days=1, late=True), todo(days=2)
    assert late_first([young, old, late]) == (late, old, young)


@given(st.lists(st.tuples(st.integers(0, 400), st.booleans())))
def test_ordering_loses_and_invents_nothing(rows):
    todos = [todo(days, late) for days, late in rows]
    assert sorted(late_first(todos), key=id) == sorted(todos, key=id)


def test_a_group_shows_the_first_and_says_how_many_are_beyond():
    group = Group("On the bench", tuple(todo(days) for days in range(SHOWN + 3)), "")
    assert len(group.shown) == SHOWN
    assert group.beyond == 3


def test_a_short_group_has_nothing_beyond():
    assert Group("On the bench", (todo(),), "").beyond == 0
