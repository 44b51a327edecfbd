from datetime import date

import pytest

from shop.books.domain.months import Month
from shop.books.services import BooksError, read_period

TODAY = date(2026, 10, 5)


@pytest.mark.parametrize("text", ["2026-10", "2025-12"])
def test_a_month_up_to_this_one_is_read(text):
    assert str(read_period(text, TODAY)) == text


def test_a_month_to_come_is_refused_and_this_one_named():
    with pytest.raises(BooksError, match=r"2026-11 is still to come.*2026-10"):
        read_period("2026-11", TODAY)


def test_what_is_no_month_is_refused_with_an_example():
    with pytest.raises(BooksError, match="“October” is not a month"):
        read_period("October", TODAY)


def test_this_month_is_a_period_too():
    assert read_period("2026-10", TODAY) == Month(2026, 10)
