from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from units.sheets.domain.columns import Wanted, propose, read_rows
from units.sheets.domain.table import Cell, Table, column_name

WANTED = (
    Wanted("number", "Part number", ("part number", "part no", "item", "sku"), required=True),
    Wanted("name", "Name", ("description", "name", "part name")),
    Wanted("price", "Price", ("price", "unit price", "cost", "net"), "money", required=True),
    Wanted("days", "Lead time", ("lead time", "lead days", "delivery"), "whole"),
)


def table(*rows):
    filled = tuple(
        {column: Cell(number, column, value) for column, value in enumerate(row) if value != ""}
        for number, row in enumerate(rows, start=1)
        if any(value != "" for value in row)
    )
    return Table("prices", filled)


LIST = table(
    ("Quarterly list", "", "", ""),
    ("", "", "", ""),
    ("Net price USD", "Item No.", "Lead-time (days)", "Description"),
    ("12.50", "44-210", "5", "Walking belt"),
    ("n/a", "44-211", "x", "Deck"),
    ("3.10", "", "2", "Roller"),
)


def test_headings_are_found_in_any_words_and_place():
    layout = propose(LIST, WANTED)

    assert layout.heading_row == 3
    assert {name: choice.column for name, choice in layout.columns.items()} == {
        "price": 0,
        "number": 1,
        "days": 2,
        "name": 3,
    }
    assert layout.missing(WANTED) == []


def test_good_rows_come_back_and_each_fault_names_its_cell():
    rows, faults = read_rows(LIST, propose(LIST, WANTED), WANTED)

    assert [(row.number, row.values["price"]) for row in rows] == [(4, Decimal("12.50"))]
    assert sorted(fault.ref for fault in faults) == ["A5", "B6", "C5"]


def test_without_headings_nothing_that_is_required_is_guessed_from_text():
    bare = table(("44-210", "Walking belt"), ("44-211", "Deck"))

    layout = propose(bare, WANTED)

    assert layout.heading_row == 0
    assert [one.name for one in layout.missing(WANTED)] == ["number", "price"]


def test_no_column_serves_twice():
    layout = propose(table(("Price", "Unit price"), ("1.00", "2.00")), WANTED)
    columns = [choice.column for choice in layout.columns.values()]

    assert len(columns) == len(set(columns))


@given(st.integers(0, 18_277))
def test_column_names_agree_with_openpyxl(column):
    from openpyxl.utils import get_column_letter

    assert column_name(column) == get_column_letter(column + 1)
