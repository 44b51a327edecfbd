from datetime import date
from decimal import Decimal

import pytest

from shop.lots.domain.lists.figures import (
    Amount,
    amount_in,
    amount_of,
    hours_of,
    is_bare_year,
    looks_serial,
    mass_in,
    serials_of,
    year_of,
)


def pieces(number):
    return Amount(Decimal(number), "piece")


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("3", 3),
        ("3 ea", 3),
        ("x2", 2),
        ("2x", 2),
        ("qty: 4 pcs", 4),
        ("Qty 4", 4),
        ("two", 2),
        ("a pair", 2),
        ("a dozen", 12),
        ("(4)", 4),
        ("5 pairs", 10),
        ("3 units", 3),
        ("1,200", 1200),
        ("12 No.", 12),
        (Decimal("7"), 7),
    ],
)
def test_a_count_is_read_as_sellers_write_it(text, count):
    assert amount_of(text) == pieces(count)


@pytest.mark.parametrize(
    "text",
    [
        "a few",
        "some",
        "",
        "0",
        "-3",
        "2.5",
        "3 or 4",
        "lots",
        "?",
        Decimal("2.5"),
        Decimal("90000"),
        date(2026, 1, 2),
        None,
    ],
)
def test_what_says_no_count_is_none(text):
    assert amount_of(text) is None


@pytest.mark.parametrize(
    ("text", "amount"),
    [
        ("600 lb", Amount(Decimal(600), "lb")),
        ("45 kg", Amount(Decimal(45), "kg")),
        ("1,200 sq ft", Amount(Decimal(1200), "sqft")),
        ("2 sets", Amount(Decimal(2), "set")),
        ("20 x 45 lb", Amount(Decimal(900), "lb", 20)),
        ("4 x 2.5 kg", Amount(Decimal(10), "kg", 4)),
    ],
)
def test_goods_are_counted_by_their_measure(text, amount):
    assert amount_of(text) == amount


@pytest.mark.parametrize(
    ("name", "count", "rest"),
    [
        ("3 x Holmgate HG 7100", 3, "Holmgate HG 7100"),
        ("(2) Kestrow KS 40", 2, "Kestrow KS 40"),
        ("Corvane T-420 x3", 3, "Corvane T-420"),
        ("KS 44, 2 pcs", 2, "KS 44"),
        ("two rowers", 2, "rowers"),
        ("4 Kestrow KS 40", 4, "Kestrow KS 40"),
        ("HG 6100 (2)", 2, "HG 6100"),
        ("rower - qty: 2", 2, "rower"),
    ],
)
def test_a_count_amid_a_name_is_taken_out_of_it(name, count, rest):
    amount, left = amount_in(name)
    assert (amount, left.strip(" ,-")) == (pieces(count), rest)


@pytest.mark.parametrize("name", ["Holmgate HG 7100", "treadmill", "OM9500"])
def test_a_name_without_a_count_stays_whole(name):
    assert amount_in(name) == (None, name)


@pytest.mark.parametrize(
    ("text", "hours"),
    [
        ("3,412 hrs", 3412),
        ("3412", 3412),
        ("1.5k h", 1500),
        (Decimal(980), 980),
        ("2 413 h", 2413),
        ("2017-05", None),
        ("bought 2017", None),
        ("heavy", None),
        (date(2017, 5, 1), None),
        ("-5", None),
        ("1,234,567", None),
    ],
)
def test_hours_are_read_and_days_are_none(text, hours):
    assert hours_of(text) == hours


@pytest.mark.parametrize(
    ("text", "year"),
    [
        (date(2017, 5, 1), 2017),
        ("03/2016", 2016),
        ("bought 2019", 2019),
        (Decimal(2015), 2015),
        ("3412", None),
        ("1850", None),
        ("2016 to 2018", None),
    ],
)
def test_a_year_is_read_from_a_day_a_number_or_words(text, year):
    assert year_of(text) == year


def test_four_digits_alone_may_be_a_year():
    assert [is_bare_year(one) for one in ("2017", Decimal(2017), "2017-05", "3412")] == [
        True,
        True,
        False,
        False,
    ]


@pytest.mark.parametrize(
    ("text", "serials"),
    [
        ("ML100200 / ML100201", ("ML100200", "ML100201")),
        ("ML100200\nML100201; ML100202", ("ML100200", "ML100201", "ML100202")),
        ("ML100200 ML100201", ("ML100200", "ML100201")),
        ("ML100200/ML100201", ("ML100200", "ML100201")),
        ("S/N: ML100200", ("ML100200",)),
        ("n/a", ()),
        ("-", ()),
        (None, ()),
        ("KS-9/0012", ("KS-9/0012",)),
        (Decimal(12345678), ("12345678",)),
    ],
)
def test_serials_stand_one_by_one(text, serials):
    assert serials_of(text) == serials


def test_a_serial_has_figures_enough():
    assert [looks_serial(one) for one in ("ML100200", "console", "AB1", "ML100200, ML100201")] == [
        True,
        False,
        False,
        True,
    ]


@pytest.mark.parametrize(
    ("text", "amount"),
    [
        ("approx 600 lb", Amount(Decimal(600), "lb")),
        ("45 lb and 35 lb plates", None),
        ("bench", None),
    ],
)
def test_a_mass_counts_where_a_text_names_one_alone(text, amount):
    assert mass_in(text) == amount
