"""Common practice, no published source: 10 % or a fixed sum of 50, whichever is less."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.work.domain.limits import NONE, ceiling, most_fee, needs_new_yes

sums = st.decimals(min_value=0, max_value=100_000, places=2)


@pytest.mark.parametrize(
    ("up_to", "most"),
    [("0", "0"), ("100", "110"), ("499.99", "549.989"), ("500", "550"), ("501", "551")],
)
def test_the_allowance_is_the_lesser_of_share_and_sum(up_to, most):
    assert ceiling(Decimal(up_to)) == Decimal(most)


@pytest.mark.parametrize(
    ("projected", "asks"), [("110.00", False), ("110.01", True), ("99.00", False)]
)
def test_a_new_yes_is_needed_one_cent_above_the_allowance(projected, asks):
    assert needs_new_yes(Decimal(projected), Decimal(100)) is asks


def test_a_limit_given_on_arrival_has_no_allowance():
    assert needs_new_yes(Decimal("100.01"), Decimal(100), NONE)
    assert not needs_new_yes(Decimal(100), Decimal(100), NONE)


@given(sums)
def test_what_was_agreed_never_needs_a_new_yes(up_to):
    assert not needs_new_yes(up_to, up_to)


@pytest.mark.parametrize(
    ("quoted", "limit", "parts", "most"),
    [
        ("0", None, "0", "0"),
        ("40", None, "0", "44"),
        ("40", "30", "0", "44"),
        ("0", "30", "0", "30"),
        ("0", "30", "20", "10"),
        ("0", "30", "50", "0"),
    ],
)
def test_a_fee_goes_as_far_as_the_quote_or_what_is_left_of_the_limit(quoted, limit, parts, most):
    limit = None if limit is None else Decimal(limit)
    assert most_fee(Decimal(quoted), limit, Decimal(parts)) == Decimal(most)


@given(sums)
def test_nothing_outgrows_the_fixed_sum(up_to):
    assert up_to <= ceiling(up_to) <= up_to + 50
