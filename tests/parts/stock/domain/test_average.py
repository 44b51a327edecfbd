from datetime import date
from decimal import Decimal

import pytest

from parts.stock.domain.average import average_cost, least_from

MONDAY, TUESDAY, WEDNESDAY = date(2026, 10, 5), date(2026, 10, 6), date(2026, 10, 7)


@pytest.mark.parametrize(
    ("quantity", "cost", "one"),
    [
        (Decimal(2), Decimal(30), Decimal("15.000000")),
        (Decimal(3), Decimal("1.00"), Decimal("0.333333")),
        (Decimal(3), Decimal("2.00"), Decimal("0.666667")),
        (Decimal("0.5"), Decimal("0.01"), Decimal("0.020000")),
        (Decimal(4), Decimal(0), Decimal("0.000000")),
    ],
)
def test_one_costs_its_share_of_all_to_the_millionth_half_up(quantity, cost, one):
    assert average_cost(quantity, cost) == one


@pytest.mark.parametrize(
    ("moves", "least"),
    [
        ([], 0),
        ([(MONDAY, 3)], 3),
        ([(TUESDAY, 3)], 3),
        ([(WEDNESDAY, 3)], 0),
        ([(MONDAY, 5), (WEDNESDAY, -4)], 1),
        ([(MONDAY, 5), (WEDNESDAY, -4), (WEDNESDAY, 2)], 3),
        ([(WEDNESDAY, 2), (WEDNESDAY, -4), (MONDAY, 5)], 3),
        ([(MONDAY, 5), (WEDNESDAY, -4), (date(2026, 10, 8), 9)], 1),
    ],
)
def test_on_a_past_day_no_more_may_be_taken_than_lay_there_on_any_day_since(moves, least):
    moves = [(day, Decimal(quantity)) for day, quantity in moves]
    assert least_from(moves, TUESDAY) == Decimal(least)
