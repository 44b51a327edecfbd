"""A calendar month as the accountant's period."""

import calendar
import re
from dataclasses import dataclass
from datetime import date
from typing import Self


class MonthError(ValueError):
    """A text that names no month; the text is the text."""


@dataclass(frozen=True, order=True)
class Month:
    year: int
    number: int

    @classmethod
    def of(cls, on: date) -> Self:
        return cls(on.year, on.month)

    @classmethod
    def read(cls, text: str) -> Self:
        """``2026-10``, and nothing else. Raises MonthError."""
        found = re.fullmatch(r"([1-9][0-9]{3})-(0[1-9]|1[0-2])", text, re.ASCII)
        if not found:
            raise MonthError(text)
        return cls(int(found[1]), int(found[2]))

    @property
    def first(self) -> date:
        return date(self.year, self.number, 1)

    @property
    def last(self) -> date:
        return date(self.year, self.number, calendar.monthrange(self.year, self.number)[1])

    def __str__(self):
        return f"{self.year:04}-{self.number:02}"
