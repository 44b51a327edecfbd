"""Whether a lot can be out in time; by hand."""

from datetime import date

import pytest

from shop.lots.domain.removal import Standing, plan_of

TODAY = date(2026, 10, 5)
HAUL = {"trips": 5, "crew": 3, "hours": 60.0, "cost": 2000.0}  # 20 hours of three: three days


@pytest.mark.parametrize(
    ("by", "standing", "left", "crews"),
    [
        (date(2026, 10, 4), Standing.LATE, -1, 1),
        (date(2026, 10, 5), Standing.TIGHT, 1, 3),
        (date(2026, 10, 6), Standing.TIGHT, 2, 2),
        (date(2026, 10, 7), Standing.MET, 3, 1),
    ],
)
def test_three_days_of_work_against_the_days_that_are_left(by, standing, left, crews):
    plan = plan_of(HAUL, by, TODAY)
    assert (plan.standing, plan.days_left, plan.crews) == (standing, left, crews)
    assert (plan.trips, plan.crew, plan.days) == (5, 3, 3)


def test_the_last_day_to_begin():
    assert plan_of(HAUL, date(2026, 10, 20), TODAY).begin_by == date(2026, 10, 18)


def test_without_a_day_nothing_is_late_and_without_a_haul_nothing_is_promised():
    assert plan_of(HAUL, None, TODAY).standing == Standing.NO_DAY
    assert plan_of(None, None, TODAY).days == 0
    assert plan_of(None, date(2026, 10, 9), TODAY).standing == Standing.OPEN
    assert plan_of(None, date(2026, 10, 1), TODAY).days_left == -4


def test_nothing_to_carry_takes_no_day():
    plan = plan_of({"trips": 0, "crew": 0, "hours": 0.0}, date(2026, 10, 5), TODAY)
    assert (plan.standing, plan.days, plan.begin_by) == (Standing.MET, 0, date(2026, 10, 5))
