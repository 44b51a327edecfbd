"""A spreadsheet as rows of cells that know their own address."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

Value = str | Decimal | date


@dataclass(frozen=True)
class Cell:
    """One filled cell; ``row`` counts from 1, ``column`` from 0: ``B7`` is row 7, column 1."""

    row: int
    column: int
    value: Value

    @property
    def ref(self) -> str:
        return f"{column_name(self.column)}{self.row}"

    @property
    def text(self) -> str:
        """The value as a person would type it, with single spaces."""
        if isinstance(self.value, Decimal):
            return f"{self.value:f}"
        return " ".join(str(self.value).split())


@dataclass(frozen=True)
class Table:
    """One sheet: each row maps a column to its filled cell; empty rows are left out.

    ``merged`` are the ranges written as one cell: first and last row from 1, then columns from 0.
    """

    name: str
    rows: tuple[dict[int, Cell], ...]
    merged: tuple[tuple[int, int, int, int], ...] = ()

    @property
    def width(self) -> int:
        return max((max(row) + 1 for row in self.rows if row), default=0)


def column_number(name: str) -> int:
    """The column of a name: 0 for ``A``, 26 for ``AA``."""
    column = 0
    for letter in name:
        column = 26 * column + ord(letter) - ord("A") + 1
    return column - 1


def column_name(column: int) -> str:
    """``A`` for 0, ``Z`` for 25, ``AA`` for 26."""
    name = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        name = chr(ord("A") + rest) + name
    return name
