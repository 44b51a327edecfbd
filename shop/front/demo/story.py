"""The teller: the anchor day, the people, and how a job's life is told in the order of time."""

import csv
import heapq
import tomllib
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from functools import cache
from typing import Any

from django.conf import settings
from django.contrib.auth import get_user_model
from django.utils import timezone

FOLDER = settings.BASE_DIR / "fixtures" / "demo"
MONTHS = 14
FIRST = MONTHS * 31  # days before the anchor


@dataclass(frozen=True)
class Story:
    anchor: date
    desk: Any
    bench: Any
    owner: Any

    def day(self, ago: int) -> date:
        return self.anchor - timedelta(days=ago)

    def at(self, ago: int, hour: int, minute: int = 0) -> datetime:
        """An instant of the day ``ago`` days before the anchor, in the shop's own time."""
        return timezone.make_aware(datetime.combine(self.day(ago), time(hour, minute)))


def begin(anchor: date) -> Story:
    people = get_user_model().objects
    return Story(
        anchor=anchor,
        desk=people.get(username="marit"),
        bench=people.get(username="tobin"),
        owner=people.get(username="ilse"),
    )


@cache
def rows(name: str) -> list[dict[str, str]]:
    with (FOLDER / name).open(newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


@cache
def table(name: str) -> dict:
    return tomllib.loads((FOLDER / name).read_text(encoding="utf-8"))


Thread = Iterator[datetime]


def in_order_of_time(threads: list[Thread], month_told: Callable[[date], None]) -> None:
    """Run many lives side by side, each going on when its next instant has come.

    A life is a generator that yields the instant of what it does next, before doing it.
    ``month_told`` hears of each month as it begins.
    """
    waiting, month = [], None
    for number, thread in enumerate(threads):
        first = next(thread, None)
        if first is not None:
            waiting.append((first, number, thread))
    heapq.heapify(waiting)
    while waiting:
        at, number, thread = heapq.heappop(waiting)
        if month != at.date().replace(day=1):
            month = at.date().replace(day=1)
            month_told(month)
        following = next(thread, None)
        if following is not None:
            heapq.heappush(waiting, (following, number, thread))
