from dataclasses import replace
from datetime import date

import pytest

from units.recalls.domain.notice import Notice, Product, digits, joined

ONE = Notice("26645", "A title", date(2026, 7, 30), description="Model TR-90.")


@pytest.mark.parametrize("number", ["18-764", "18764", "Release #18-764", " 18 764 "])
def test_numbers_are_compared_by_their_digits(number):
    assert replace(ONE, number=number).key == "18764"


def test_only_plain_digits_count():
    assert digits("1٢3") == "13"


def test_what_was_published_beside_the_text_makes_no_other_notice():
    assert replace(ONE, raw={"LastPublishDate": "today"}).digest == ONE.digest


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
