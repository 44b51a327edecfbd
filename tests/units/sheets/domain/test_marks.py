"""Which mark parts the fraction, told by the other figures of a column."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from units.sheets.domain.columns import Wanted, doubts, propose, read_rows
from units.sheets.domain.marks import is_either, mark_of, pointed
from units.sheets.domain.table import Cell, Table

WANTED = (
    Wanted("number", "Part number", ("part number",), required=True),
    Wanted("cost", "Cost for one", ("cost",), "unit cost", required=True),
    Wanted("lead", "Days to come", ("days",), "whole"),
)


def table(*costs, leads=()):
    rows = [("part number", "cost", "days")]
    rows += [(f"CV-{place}", cost, "3") for place, cost in enumerate(costs)]
    for place, lead in enumerate(leads, 1):
        rows[place] = (*rows[place][:2], lead)
    return Table(
        "prices",
        tuple(
            {column: Cell(row, column, value) for column, value in enumerate(values)}
            for row, values in enumerate(rows, 1)
        ),
    )


def costs(*written):
    sheet = table(*written)
    rows, faults = read_rows(sheet, propose(sheet, WANTED), WANTED)
    assert faults == []
    return [str(row.values["cost"]) for row in rows]


def remarks(*written):
    sheet = table(*written)
    found = doubts(sheet, propose(sheet, WANTED), WANTED)
    return [(one.ref, one.text, str(one.value), one.told) for one in found]


@pytest.mark.parametrize(
    ("written", "mark"),
    [
        (["12,50"], ","),
        (["12.50"], "."),
        (["1.234,50"], ","),
        (["1,234.50"], "."),
        (["1.234.567"], ","),
        (["1,234,567"], "."),
        (["0,125"], ","),
        (["1234.567"], "."),
        (["€ 12,50", "(3,5)"], ","),
        (["1.234"], ""),
        (["1,234"], ""),
        (["12", Decimal("12.50"), "ask"], ""),
        (["12,50", "12.50"], ""),
        (["12.10.2026"], ""),
        (["12,"], ""),
    ],
)
def test_every_telling_cell_of_a_column_must_agree(written, mark):
    assert mark_of(written) == mark


@pytest.mark.parametrize("value", ["1.234", "1,234", "-12.345", "€ 1.234", "(999,000)"])
def test_three_figures_after_one_mark_may_be_either(value):
    assert is_either(value)


@pytest.mark.parametrize("value", ["0.125", "1234.567", "1.23", "1.234,5", "1.234.567", "", "12"])
def test_other_figures_tell_by_themselves(value):
    assert not is_either(value)
    assert not is_either(Decimal("1.234"))


def test_among_comma_fractions_a_point_parts_thousands():
    assert costs("12,50", "1.234", "2,125") == ["12.50", "1234", "2.125"]
    assert costs("1.234", "12,50") == ["1234", "12.50"]


def test_among_point_fractions_a_comma_parts_thousands():
    assert costs("12.50", "1,234", "1.234") == ["12.50", "1234", "1.234"]


def test_alone_or_among_figures_that_contradict_each_other_each_is_read_by_itself():
    assert costs("1.234", "7") == ["1.234", "7"]
    assert costs("1,234", "7") == ["1234", "7"]
    assert costs("12,50", "12.50", "1.234") == ["12.50", "12.50", "1.234"]


def test_a_column_tells_nothing_of_another():
    sheet = table("12,50", "8,00", leads=["1.234", "5"])
    _rows, faults = read_rows(sheet, propose(sheet, WANTED), WANTED)
    assert [(fault.ref, fault.named["text"]) for fault in faults] == [("C2", "1.234")]


def test_what_was_in_doubt_is_told_once_a_column_with_what_it_was_read_as():
    assert remarks("12,50", "1.234", "2.345") == [("B3", "1.234", "1234", True)]
    assert remarks("1.234", "7") == [("B2", "1.234", "1.234", False)]
    assert remarks("1,234", "7") == [("B2", "1,234", "1234", False)]
    assert remarks("12,50", "7") == []


figures = st.decimals(Decimal("0.01"), Decimal(99999), places=2)


@given(st.lists(figures, min_size=1, max_size=8), st.booleans())
def test_a_column_written_in_either_way_throughout_reads_back_as_it_was(values, commas):
    english = [f"{value:,.2f}" for value in values]
    swapped = [one.translate(str.maketrans(",.", ".,")) for one in english]
    assert costs(*(swapped if commas else english)) == [str(value) for value in values]


def test_a_number_of_the_sheet_itself_is_left_as_it_is():
    assert pointed(Decimal("12.50"), ",") == Decimal("12.50")
