"""Days of the bench. Working days against numpy's own count of them (numpy.busday_offset)."""

from datetime import date, timedelta

import numpy as np
import pytest

from shop.work.domain.capacity import Load, nth_workday, reached, weeks

MONDAY = date(2026, 10, 5)


@pytest.mark.parametrize("start", range(7))
@pytest.mark.parametrize("nth", [1, 2, 5, 6, 11, 40])
def test_working_days_are_those_of_numpy(start, nth):
    on = MONDAY + timedelta(start)
    assert nth_workday(on, nth) == np.busday_offset(on, nth - 1, roll="forward").astype(date)


def test_the_earliest_promise_comes_first_and_what_nobody_promised_last():
    loads = [Load("A", 60), Load("B", 60, MONDAY + timedelta(9)), Load("C", 60, MONDAY)]
    assert [one.load.number for one in reached(loads, 300, MONDAY)] == ["C", "B", "A"]


def test_a_job_is_done_on_the_day_on_which_its_last_minute_falls():
    """300 minutes a week are 60 a day: closed form."""
    done = reached([Load("A", 60), Load("B", 61), Load("C", 240)], 300, MONDAY)
    days = [(one.ready_on - MONDAY).days for one in done]
    assert days == [0, 2, 8]  # 60, 121 and 361 minutes: day 1, day 3, day 7 of the bench


def test_a_promise_before_that_day_will_not_be_kept():
    done = reached([Load("A", 121, MONDAY + timedelta(1))], 300, MONDAY)
    assert done[0].will_be_late
    assert not reached([Load("A", 121, MONDAY + timedelta(2))], 300, MONDAY)[0].will_be_late


def test_a_bench_without_hours_gets_to_nothing():
    done = reached([Load("A", 10, MONDAY), Load("B", 10)], 0, MONDAY)
    assert [(one.ready_on, one.will_be_late) for one in done] == [(None, True), (None, False)]


def test_more_than_a_year_ahead_nobody_says_a_day():
    assert reached([Load("A", 53 * 300)], 300, MONDAY)[0].ready_on is None


def test_weeks_fill_one_after_another_and_this_one_counts_from_today():
    found = weeks(500, 300, MONDAY + timedelta(3), shown=3)  # Thursday: two days are left
    assert [(week.capacity, week.taken) for week in found] == [(120, 120), (300, 300), (300, 80)]
    assert found[0].monday == MONDAY
    assert weeks(10, 300, MONDAY + timedelta(6), shown=1)[0].capacity == 0
