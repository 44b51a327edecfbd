from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.books.domain.months import Month, MonthError


def test_a_month_has_its_first_and_last_day():
    month = Month.read("2028-02")
    assert (month.first, month.last) == (date(2028, 2, 1), date(2028, 2, 29))


@pytest.mark.parametrize(
    "text",
    [
        "",
        "2026",
        "2026-1",
        "2026-13",
        "2026-00",
        "26-10",
        "2026-10-01",
        "2026-10\n",
        "\uff12026-10",
    ],
)
def test_what_is_no_month_is_refused(text):
    with pytest.raises(MonthError):
        Month.read(text)


@given(st.dates(min_value=date(1000, 1, 1)))
def test_a_day_lies_in_its_month_and_the_month_reads_back(day):
    month = Month.of(day)
    assert month.first <= day <= month.last
    assert Month.read(str(month)) == month


def test_months_stand_in_the_order_of_time():
    assert Month(2025, 12) < Month(2026, 1)
