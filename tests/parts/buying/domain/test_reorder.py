from collections import Counter
from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.buying.domain.reorder import (
    Coming,
    Demand,
    Use,
    reorder_point,
    safety_stock,
    shortages,
    to_order,
    use_a_day,
)

TODAY = date(2026, 10, 5)
D = Decimal


def wants(quantity, key="J00001", part="belt", days=0):
    return Demand(part, D(quantity), key, TODAY + timedelta(days=days))


@pytest.mark.parametrize(
    ("on_hand", "coming", "short"),
    [
        ({}, [], {"J00001": 2, "J00002": 3}),
        ({"belt": D(2)}, [], {"J00002": 3}),
        ({"belt": D(3)}, [], {"J00002": 2}),
        ({"belt": D(9)}, [], {}),
        ({}, [Coming("belt", D(2))], {"J00002": 3}),
        ({}, [Coming("belt", D(3), "J00002")], {"J00001": 2}),
        ({}, [Coming("belt", D(4), "J00002")], {"J00001": 1}),
        ({}, [Coming("belt", D(4), "J00099")], {"J00002": 1}),
        ({"belt": D(1)}, [Coming("belt", D(1)), Coming("belt", D(1), "J00002")], {"J00002": 2}),
        ({"deck": D(9)}, [Coming("deck", D(9))], {"J00001": 2, "J00002": 3}),
    ],
)
def test_what_is_short(on_hand, coming, short):
    demands = [wants(2, "J00001", days=5), wants(3, "J00002", days=1)]
    found = {one.key: int(one.quantity) for one in shortages(demands, on_hand, coming)}
    assert found == short


@pytest.mark.parametrize("day", [TODAY, None])
def test_the_shelf_serves_in_the_order_of_the_demands(day):
    demands = [wants(1, "first", days=9), Demand("belt", D(1), "second", day)]
    assert [one.key for one in shortages(demands, {"belt": D(1)}, [])] == ["second"]


quantities = st.decimals("0.001", "50", places=3)
parts = st.sampled_from(["belt", "deck"])
keys = st.sampled_from(["", "J00001", "J00002", "J00003"])
demand_lists = st.lists(
    st.builds(Demand, parts, quantities, keys.filter(bool), st.none() | st.just(TODAY)),
    max_size=6,
    unique_by=lambda demand: (demand.part, demand.key),
)
coming_lists = st.lists(st.builds(Coming, parts, quantities, keys), max_size=5)
shelves = st.dictionaries(parts, quantities)


@given(demand_lists, shelves, coming_lists)
def test_shortages_are_never_below_nothing_nor_above_what_was_wanted(demands, on_hand, coming):
    wanted = {(one.part, one.key): one.quantity for one in demands}
    for short in shortages(demands, on_hand, coming):
        assert 0 < short.quantity <= wanted[short.part, short.key]


@given(demand_lists, shelves, coming_lists)
def test_a_part_is_short_of_exactly_what_is_wanted_beyond_all_there_is(demands, on_hand, coming):
    there, wanted, short = Counter(on_hand), Counter(), Counter()
    for one in coming:
        there[one.part] += one.quantity
    for one in demands:
        wanted[one.part] += one.quantity
    for one in shortages(demands, on_hand, coming):
        short[one.part] += one.quantity
    assert all(short[part] == max(D(0), wanted[part] - there[part]) for part in ("belt", "deck"))


def test_use_counts_the_days_on_which_nothing_left():
    # 2 and 4 in four days: mean 1.5, squares 0.25 + 6.25 + 2.25 + 2.25 over three.
    use = use_a_day([D(2), D(4)], 4)
    assert use.mean == pytest.approx(1.5)
    assert use.deviation == pytest.approx((11 / 3) ** 0.5)


@pytest.mark.parametrize(("taken", "days"), [([D(1)], 1), ([D(1)] * 4, 3)])
def test_use_of_too_few_days_is_refused(taken, days):
    with pytest.raises(ValueError, match="two days or more"):
        use_a_day(taken, days)


def test_without_deviation_there_is_no_safety_stock():
    assert safety_stock(Use(3, 0), 10, 0.95) == 0
    assert reorder_point(Use(3, 0), 10, 0.95) == D(30)


@given(st.floats(0, 100), st.floats(0, 100), st.integers(0, 90), st.floats(0.51, 0.98))
def test_a_longer_wait_or_a_surer_shelf_never_lowers_the_point(mean, deviation, lead, service):
    use = Use(mean, deviation)
    point = reorder_point(use, lead, service)
    assert reorder_point(use, lead + 1, service) >= point
    assert reorder_point(use, lead, service + 0.01) >= point


@pytest.mark.parametrize(
    ("point", "available", "pieces"),
    [("4.2", "1", "4"), ("4", "4", "0"), ("4", "9", "0"), ("0.001", "0", "1")],
)
def test_whole_pieces_are_ordered_up_to_the_point(point, available, pieces):
    assert to_order(D(point), D(available)) == D(pieces)
