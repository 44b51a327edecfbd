from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.stock.domain.sharing import share_by_value


def shares(price, *values):
    return [str(share) for share in share_by_value(Decimal(price), [Decimal(v) for v in values])]


@pytest.mark.parametrize(
    ("price", "values", "expected"),
    [
        ("10.00", ["1"], ["10.00"]),
        ("10.00", ["1", "3"], ["2.50", "7.50"]),
        ("10.00", ["0", "3"], ["0.00", "10.00"]),
        ("0.00", ["5", "3"], ["0.00", "0.00"]),
        ("10.00", ["0", "0", "0"], ["3.34", "3.33", "3.33"]),
        ("0.05", ["1", "1", "1", "2"], ["0.01", "0.01", "0.01", "0.02"]),
        ("0.02", ["1", "2"], ["0.01", "0.01"]),
    ],
)
def test_a_price_is_shared_by_what_each_is_worth(price, values, expected):
    assert shares(price, *values) == expected


def test_the_cents_left_over_go_to_the_largest_remainders():
    assert shares("1.00", "1", "5", "1") == ["0.14", "0.72", "0.14"]


def test_nothing_shared_over_nothing_is_nothing():
    assert share_by_value(Decimal(0), []) == []


def test_a_price_needs_something_to_share_it_over():
    with pytest.raises(ValueError, match="nothing to share"):
        share_by_value(Decimal(1), [])


def test_a_value_below_nothing_is_refused():
    with pytest.raises(ValueError, match="not less than nothing"):
        shares("1.00", "2", "-1")


cents = st.integers(0, 10_000_000).map(lambda steps: Decimal(steps) / 100)


@given(cents, st.lists(cents, min_size=1, max_size=12))
def test_no_cent_is_lost_and_none_is_further_than_a_cent_from_its_share(price, values):
    shared = share_by_value(price, values)
    assert sum(shared) == price
    total = sum(values)
    for share, value in zip(shared, values, strict=True):
        exact = price * value / total if total else price / len(values)
        assert abs(share - exact) < Decimal("0.01") + Decimal("1e-18")
