from datetime import timedelta
from decimal import Decimal

import pytest

from parts.buying.selectors import OnOrder, awaited_lines, lines_so_far, on_order, states_of
from tests.factories.parts import PartFactory
from tests.factories.units import TODAY
from tests.parts.buying.purchase import an_order, take_in

pytestmark = pytest.mark.django_db
SOON, LATE = TODAY + timedelta(days=2), TODAY + timedelta(days=9)


def test_what_is_on_order_is_all_that_is_to_come_and_the_first_that_is_expected():
    part = PartFactory()
    an_order("3", part=part)
    an_order("2", part=part, expected_on=LATE)
    first = an_order("1", part=part, expected_on=SOON)
    assert on_order([part]) == {part.pk: OnOrder(Decimal(6), SOON, first.number)}


def test_what_came_is_no_longer_on_order():
    part = PartFactory()
    order = an_order("3", part=part)
    take_in(order, "1")
    assert on_order([part])[part.pk].quantity == Decimal(2)
    take_in(order, "2")
    assert on_order([part]) == {}


def test_a_part_that_nobody_asked_for_is_left_out():
    an_order("1")
    assert on_order([PartFactory()]) == {}


def test_awaited_lines_are_those_with_something_to_come():
    order = an_order("1", "2", demand="J00012")
    take_in(order, "1")
    (line,) = awaited_lines()
    assert (line.to_come, line.demand) == (Decimal(2), "J00012")


def test_many_orders_are_told_in_one_query_each(django_assert_num_queries):
    parts = [PartFactory() for _ in range(4)]
    orders = [an_order("2", part=part) for part in parts]
    with django_assert_num_queries(1):
        assert len(on_order(parts)) == 4
    with django_assert_num_queries(1):
        assert set(states_of(lines_so_far(orders)).values()) == {"open"}
