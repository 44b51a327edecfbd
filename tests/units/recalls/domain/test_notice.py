from dataclasses import replace
from datetime import date

import pytest

from units.recalls.domain.notice import Notice, Product, completed, digits, is_older, joined

ONE = Notice("26645", "A title", date(2026, 7, 30), description="Model TR-90.")


@pytest.mark.parametrize("number", ["18-764", "18764", "Release #18-764", " 18 764 "])
def test_numbers_are_compared_by_their_digits(number):
    assert replace(ONE, number=number).key == "18764"


def test_only_plain_digits_count():
    assert digits("1٢3") == "13"


def test_what_was_published_beside_the_text_makes_no_other_notice():
    assert replace(ONE, raw={"LastPublishDate": "today"}).digest == ONE.digest
    assert replace(ONE, published_on=date(2026, 8, 1)).digest == ONE.digest


@pytest.mark.parametrize(
    "change",
    [
        {"title": "Another"},
        {"description": ""},
        {"remedy": "Refund"},
        {"products": (Product("x"),)},
    ],
)
def test_another_text_has_another_digest(change):
    assert replace(ONE, **change).digest != ONE.digest


def test_two_records_say_together_what_each_says():
    other = replace(ONE, announced_on=date(2026, 8, 1), description="Model TR-95.", parties=("K",))
    both = joined(ONE, other)
    assert both.description == "Model TR-90.\nModel TR-95."
    assert (both.announced_on, both.parties, both.title) == (date(2026, 8, 1), ("K",), "A title")


def test_two_equal_records_are_one():
    assert joined(ONE, replace(ONE)) is ONE


def test_of_two_equal_records_the_later_day_counts():
    later = replace(ONE, published_on=date(2026, 8, 1))
    assert joined(ONE, later).published_on == joined(later, ONE).published_on == date(2026, 8, 1)


@pytest.mark.parametrize(
    ("published", "known", "older"),
    [
        (date(2026, 7, 1), date(2026, 7, 2), True),
        (date(2026, 7, 2), date(2026, 7, 2), False),
        (date(2026, 7, 3), date(2026, 7, 2), False),
        (None, date(2026, 7, 2), False),
        (date(2026, 7, 1), None, False),
    ],
)
def test_a_wording_is_older_only_where_both_days_are_known(published, known, older):
    assert is_older(replace(ONE, published_on=published), known) is older


def test_nothing_that_was_known_is_replaced_by_nothing():
    known = replace(ONE, url="https://recalls.example/1", remedy="Repair", parties=("K",))
    assert completed(Notice("26645", ""), known) == known
    assert completed(replace(ONE, remedy="Refund"), known).remedy == "Refund"


@pytest.mark.parametrize(
    ("products", "expected"),
    [
        ((), (Product("A", "TR-90"), Product("B", "", "TR-95"))),
        ((Product("a"),), (Product("a", "TR-90"), Product("B", "", "TR-95"))),
        ((Product("C"),), (Product("C"), Product("A", "TR-90"), Product("B", "", "TR-95"))),
        ((Product("C", "TR-99"),), (Product("C", "TR-99"),)),
    ],
)
def test_products_keep_their_descriptions_unless_others_are_given(products, expected):
    known = replace(ONE, products=(Product("A", "TR-90"), Product("B", "", "TR-95")))
    assert completed(replace(ONE, products=products), known).products == expected
