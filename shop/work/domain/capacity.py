"""When the bench gets to what was agreed, from the minutes still to do and each technician's hours.

Each technician has a queue, the earliest promise first, over Monday to Friday, a fifth of his week
each day. A job that was given to nobody goes, in its turn, to whoever would be done with it first.
Source: common practice, no published source.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from math import ceil

WORKDAYS = 5
MOST_WEEKS = 52
WEEKS_SHOWN = 6


@dataclass(frozen=True)
class Load:
    """A job with the minutes that are still to do of what was agreed; ``technician`` is whose it
    is, None if it was given to nobody."""

    number: str
    minutes: int
    promised_on: date | None = None
    technician: int | None = None


@dataclass(frozen=True)
class Reached:
    """``ready_on`` is None where nobody has the hours, or not within a year; ``by`` is whose hours
    it takes."""

    load: Load
    ready_on: date | None
    by: int | None = None

    @property
    def will_be_late(self) -> bool:
        promised = self.load.promised_on
        return promised is not None and (self.ready_on is None or self.ready_on > promised)


@dataclass(frozen=True)
class Week:
    """A technician's week from its Monday, in minutes: what he has (from today on), what his own
    jobs take of it, and what jobs take that were given to nobody."""

    monday: date
    capacity: int
    own: int = 0
    lent: int = 0

    @property
    def taken(self) -> int:
        return self.own + self.lent


@dataclass(frozen=True)
class Plan:
    """Every job in its turn, and each technician's coming weeks."""

    reached: Sequence[Reached]
    weeks: Mapping[int, Sequence[Week]]


def plan(
    loads: Iterable[Load], hours: Mapping[int, int], on: date, shown: int = WEEKS_SHOWN
) -> Plan:
    """Lay the jobs into the weeks of ``hours``, minutes a week by technician."""
    queues: dict[int, list[Load]] = {one: [] for one in hours}
    found = []
    for load in in_order(loads):
        who = _soonest(queues, hours) if load.technician is None else load.technician
        if who not in queues:
            found.append(Reached(load, None))
            continue
        queues[who].append(load)
        found.append(Reached(load, _day_of(_minutes(queues[who]), hours[who], on), who))
    weeks = {who: _weeks(queue, hours[who], on, shown) for who, queue in queues.items()}
    return Plan(found, weeks)


def in_order(loads: Iterable[Load]) -> list[Load]:
    """The earliest promise first; what nobody promised comes last, as it came."""
    return sorted(loads, key=lambda load: (load.promised_on is None, load.promised_on or date.max))


def _minutes(queue: Iterable[Load]) -> int:
    return sum(load.minutes for load in queue)


def _soonest(queues: Mapping[int, list[Load]], hours: Mapping[int, int]) -> int | None:
    """Whose queue leaves him free first. None where nobody has hours."""
    free = {who: Fraction(_minutes(queues[who]), a_week) for who, a_week in hours.items() if a_week}
    return min(free, key=free.get, default=None)


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


def _weeks(queue: Sequence[Load], minutes_a_week: int, on: date, shown: int) -> list[Week]:
    """How a queue fills the coming weeks; what does not fit is left over after the last."""
    monday, days = on - timedelta(on.weekday()), max(0, WORKDAYS - on.weekday())
    found, before = [], 0
    for place in range(shown):
        capacity = minutes_a_week * (days if place == 0 else WORKDAYS) // WORKDAYS
        own, lent = _between(queue, before, before + capacity)
        found.append(Week(monday + timedelta(7 * place), capacity, own, lent))
        before += capacity
    return found


def _between(queue: Iterable[Load], start: int, end: int) -> tuple[int, int]:
    """The minutes of a queue between two marks: of jobs given to somebody, and of all others."""
    own = lent = done = 0
    for load in queue:
        piece = max(0, min(done + load.minutes, end) - max(done, start))
        done += load.minutes
        if load.technician is None:
            lent += piece
        else:
            own += piece
    return own, lent
