"""When the bench gets to what was agreed, from the minutes still to do and the hours it has.

One queue, the earliest promise first, over Monday to Friday, a fifth of the week each day; who
can do what is not asked. Source: common practice, no published source.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from math import ceil

WORKDAYS = 5
MOST_WEEKS = 52


@dataclass(frozen=True)
class Load:
    """A job with the minutes that are still to do of what was agreed."""

    number: str
    minutes: int
    promised_on: date | None = None


@dataclass(frozen=True)
class Reached:
    """``ready_on`` is None where the bench has no hours, or not within a year."""

    load: Load
    ready_on: date | None

    @property
    def will_be_late(self) -> bool:
        promised = self.load.promised_on
        return promised is not None and (self.ready_on is None or self.ready_on > promised)


@dataclass(frozen=True)
class Week:
    """A week from its Monday: minutes that the bench has (from today on) and that are taken."""

    monday: date
    capacity: int
    taken: int


def in_order(loads: Iterable[Load]) -> list[Load]:
    """The earliest promise first; what nobody promised comes last, as it came."""
    return sorted(loads, key=lambda load: (load.promised_on is None, load.promised_on or date.max))


def reached(loads: Iterable[Load], minutes_a_week: int, on: date) -> list[Reached]:
    """On which working day each job is done, in the order of the queue."""
    found, total = [], 0
    for load in in_order(loads):
        total += load.minutes
        found.append(Reached(load, _day_of(total, minutes_a_week, on)))
    return found


def _day_of(minutes: int, minutes_a_week: int, on: date) -> date | None:
    if not minutes_a_week:
        return None
    nth = max(1, ceil(Fraction(minutes * WORKDAYS, minutes_a_week)))
    return nth_workday(on, nth) if nth <= MOST_WEEKS * WORKDAYS else None


def nth_workday(on: date, nth: int) -> date:
    """The nth working day, counting ``on`` if it is one; nth from 1."""
    first = on + timedelta(max(0, 7 - on.weekday())) if on.weekday() >= WORKDAYS else on
    weeks, days = divmod(first.weekday() + nth - 1, WORKDAYS)
    return first - timedelta(first.weekday()) + timedelta(weeks * 7 + days)


def weeks(minutes: int, minutes_a_week: int, on: date, shown: int = 6) -> Sequence[Week]:
    """How full the coming weeks are; what does not fit is left over after the last."""
    monday, found, left = on - timedelta(on.weekday()), [], minutes
    days = max(0, WORKDAYS - on.weekday())
    for place in range(shown):
        here = days if place == 0 else WORKDAYS
        capacity = minutes_a_week * here // WORKDAYS
        taken = min(left, capacity)
        found.append(Week(monday + timedelta(7 * place), capacity, taken))
        left -= taken
    return found
