from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from units.sheets.domain.values import (
    ValueRefusedError,
    to_day,
    to_money,
    to_number,
    to_text,
    to_unit_cost,
    to_whole,
)

NUMBERS = [
    ("12", "12"),
    ("1,234", "1234"),
    ("1,234.50", "1234.50"),
    ("1.234,50", "1234.50"),
    ("1234,5", "1234.5"),
    ("1 234.5", "1234.5"),
    ("1'234.50", "1234.50"),
    ("-3", "-3"),
    ("1.234.567", "1234567"),
    ("12,50", "12.50"),
    ("0,125", "0.125"),
    ("-0,125", "-0.125"),
]


@pytest.mark.parametrize(("text", "number"), NUMBERS)
def test_numbers_are_read_as_countries_write_them(text, number):
    assert to_number(text) == Decimal(number)


@pytest.mark.parametrize(
    "text", ["", "n/a", "1.2.3,4,5x", "12 pcs", "--3", "1e5", "NaN", "∞", ",500"]
)
def test_what_is_no_number_is_refused(text):
    with pytest.raises(ValueRefusedError):
        to_number(text)


MONEY = [
    ("$1,234.50", "1234.50"),
    ("USD 12", "12.00"),
    ("(45.00)", "-45.00"),
    (Decimal("19.99"), "19.99"),
    ("€ 7,5", "7.50"),
]


@pytest.mark.parametrize(("value", "amount"), MONEY)
def test_money_is_read_with_and_without_its_currency(value, amount):
    assert to_money(value) == Decimal(amount)


def test_a_third_decimal_place_is_not_rounded_away():
    with pytest.raises(ValueRefusedError):
        to_money("1.005")


LONG = ["9" * 16, "9" * 27, "9" * 400, "0." + "3" * 60, Decimal(10) ** 30, Decimal("NaN")]


@pytest.mark.parametrize("reader", [to_number, to_money, to_unit_cost, to_whole])
@pytest.mark.parametrize("value", LONG)
def test_a_figure_of_too_many_digits_is_read_or_refused_with_a_sentence(reader, value):
    if reader is to_number and value == "0." + "3" * 60:
        assert to_number(value) == Decimal(value)
    else:
        with pytest.raises(ValueRefusedError, match="“"):
            reader(value)


COSTS = [
    ("$0.004125", "0.004125"),
    ("1,234.125", "1234.125"),
    ("0,125", "0.125"),
    ("12", "12"),
    (Decimal("0.333333"), "0.333333"),
    ("999999999999999.999999", "999999999999999.999999"),
]


@pytest.mark.parametrize(("value", "cost"), COSTS)
def test_what_one_piece_costs_is_read_to_the_millionth(value, cost):
    assert to_unit_cost(value) == Decimal(cost)


def test_a_seventh_decimal_place_of_a_cost_is_not_rounded_away():
    with pytest.raises(ValueRefusedError, match="six decimal places"):
        to_unit_cost("0.0041255")


@given(st.decimals(min_value=-999_999, max_value=999_999, places=2))
def test_money_written_plainly_comes_back(amount):
    assert to_money(f"{amount:f}") == amount


DAYS = [
    ("2026-10-31", date(2026, 10, 31)),
    ("31.10.2026", date(2026, 10, 31)),
    ("10/31/2026", date(2026, 10, 31)),
    ("31/10/2026", date(2026, 10, 31)),
    ("5/5/2026", date(2026, 5, 5)),
    (date(2026, 1, 2), date(2026, 1, 2)),
]


@pytest.mark.parametrize(("value", "day"), DAYS)
def test_days_are_read(value, day):
    assert to_day(value) == day


@pytest.mark.parametrize("text", ["3/4/2026", "2026-02-30", "soon", "31.13.2026", "13/13/2026"])
def test_a_day_that_may_be_two_or_none_is_refused(text):
    with pytest.raises(ValueRefusedError):
        to_day(text)


def test_whole_numbers_have_no_fraction_and_no_sign():
    assert to_whole("12.0") == 12
    for text in ("1.5", "-1"):
        with pytest.raises(ValueRefusedError):
            to_whole(text)


def test_a_part_number_that_the_sheet_took_for_a_number_stays_as_typed():
    assert to_text(Decimal("4410.0")) == "4410"
