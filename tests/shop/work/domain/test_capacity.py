"""Days of the bench. Working days against numpy's own count of them (numpy.busday_offset), queues
against a simulation minute by minute."""

from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.work.domain.capacity import Load, nth_workday, plan

MONDAY = date(2026, 10, 5)
ANN, BEN = 1, 2


def days(loads, hours, on=MONDAY):
    return {
        one.load.number: (one.ready_on - on).days if one.ready_on else None
        for one in plan(loads, hours, on).reached
    }


@pytest.mark.parametrize("start", range(7))
@pytest.mark.parametrize("nth", [1, 2, 5, 6, 11, 40])
def test_working_days_are_those_of_numpy(start, nth):
    on = MONDAY + timedelta(start)
    assert nth_workday(on, nth) == np.busday_offset(on, nth - 1, roll="forward").astype(date)


def test_the_earliest_promise_comes_first_and_what_nobody_promised_last():
    loads = [Load("A", 60), Load("B", 60, MONDAY + timedelta(9)), Load("C", 60, MONDAY)]
    assert list(days(loads, {ANN: 300})) == ["C", "B", "A"]


def test_a_job_is_done_on_the_day_on_which_its_last_minute_falls():
    """300 minutes a week are 60 a day: closed form. 60, 121, 361 minutes: day 1, 3, 7."""
    loads = [Load("A", 60), Load("B", 61), Load("C", 240)]
    assert days(loads, {ANN: 300}) == {"A": 0, "B": 2, "C": 8}


def test_a_promise_before_that_day_will_not_be_kept():
    def late(days_ahead):
        load = Load("A", 121, MONDAY + timedelta(days_ahead))
        return plan([load], {ANN: 300}, MONDAY).reached[0].will_be_late

    assert late(1)
    assert not late(2)


@pytest.mark.parametrize("hours", [{}, {ANN: 0}])
def test_a_bench_without_hours_gets_to_nothing(hours):
    done = plan([Load("A", 10, MONDAY), Load("B", 10)], hours, MONDAY).reached
    assert [(one.ready_on, one.will_be_late) for one in done] == [(None, True), (None, False)]


def test_more_than_a_year_ahead_nobody_says_a_day():
    assert days([Load("A", 53 * 300)], {ANN: 300}) == {"A": None}


def test_weeks_fill_one_after_another_and_this_one_counts_from_today():
    thursday = MONDAY + timedelta(3)  # two days are left
    found = plan([Load("A", 500, technician=ANN)], {ANN: 300}, thursday, shown=3).weeks[ANN]
    assert [(week.capacity, week.taken) for week in found] == [(120, 120), (300, 300), (300, 80)]
    assert found[0].monday == MONDAY
    assert plan([], {ANN: 300}, MONDAY + timedelta(6), shown=1).weeks[ANN][0].capacity == 0


def test_what_was_given_to_one_is_not_done_in_the_hours_of_another():
    """Ann has 60 minutes a day and 120 to do; that Ben is free helps nobody."""
    loads = [Load("A", 60, technician=ANN), Load("B", 60, technician=ANN)]
    found = plan(loads, {ANN: 300, BEN: 3000}, MONDAY)
    assert [one.by for one in found.reached] == [ANN, ANN]
    assert days(loads, {ANN: 300, BEN: 3000}) == {"A": 0, "B": 1}
    assert sum(week.taken for week in found.weeks[BEN]) == 0


def test_what_was_given_to_nobody_goes_to_whoever_is_free_first():
    loads = [Load("A", 90, MONDAY, ANN), Load("B", 30), Load("C", 30), Load("D", 30)]
    found = plan(loads, {ANN: 300, BEN: 150}, MONDAY)
    assert {one.load.number: one.by for one in found.reached} == {
        "A": ANN,
        "B": BEN,  # free at once; Ann after 1.5 of her days
        "C": BEN,  # after 1 of his days
        "D": ANN,  # he after 2, she after 1.5
    }
    first = found.weeks[ANN][0]
    assert (first.own, first.lent) == (90, 30)


def test_a_job_of_somebody_who_has_no_hours_is_reached_by_nobody():
    loads = [Load("A", 10, MONDAY, BEN), Load("B", 10)]
    assert days(loads, {ANN: 300}) == {"A": None, "B": 0}


loads_drawn = st.lists(
    st.builds(
        Load,
        number=st.uuids().map(str),
        minutes=st.integers(0, 400),
        promised_on=st.none() | st.integers(0, 20).map(lambda days: MONDAY + timedelta(days)),
        technician=st.sampled_from([None, ANN, BEN]),
    ),
    max_size=8,
)


@given(loads_drawn, st.integers(1, 40).map(lambda tens: tens * 50), st.integers(1, 40))
def test_weeks_hold_every_minute_once_as_a_walk_minute_by_minute_counts_them(loads, ann, tens):
    hours = {ANN: ann, BEN: tens * 50}
    found = plan(loads, hours, MONDAY, shown=60)
    for who, a_week in hours.items():
        minutes = [
            one.load for one in found.reached if one.by == who for _m in range(one.load.minutes)
        ]
        for nth, week in enumerate(found.weeks[who]):
            mine = minutes[nth * a_week : (nth + 1) * a_week]
            assert week.own == sum(load.technician is not None for load in mine)
            assert week.lent == len(mine) - week.own
    assert {one.load.number for one in found.reached} == {load.number for load in loads}
