"""What a seat's opening page is made of: sentences, each with one deed.

Source of the days: shop defaults, common practice, no published source.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

LATE_AFTER_DAYS = 7
SHOWN = 6


@dataclass(frozen=True)
class Todo:
    """``href`` may be empty when the seat may not open what the sentence speaks of."""

    sentence: str
    since: date
    days: int
    late: bool
    href: str
    deed: str


@dataclass(frozen=True)
class Group:
    """Sentences under one heading; ``more_href`` is the list that shows those beyond the first."""

    title: str
    todos: tuple[Todo, ...]
    empty: str
    more_href: str = ""

    @property
    def shown(self) -> tuple[Todo, ...]:
        return self.todos[:SHOWN]

    @property
    def beyond(self) -> int:
        return max(0, len(self.todos) - SHOWN)


def days_between(since: date, on: date) -> int:
    """Whole days that passed; a day in the future counts as today."""
    return max(0, (on - since).days)


def is_late(since: date, on: date, promised_on: date | None = None, after=LATE_AFTER_DAYS) -> bool:
    """Waited longer than ``after`` days, or past the day that was promised."""
    return days_between(since, on) > after or (promised_on is not None and promised_on < on)


def late_first(todos: Iterable[Todo]) -> tuple[Todo, ...]:
    """What is late stands first, and among equals what has waited longest."""
    return tuple(sorted(todos, key=lambda todo: (not todo.late, -todo.days)))
