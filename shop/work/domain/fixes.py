"""What was done about each complaint, and how often the machine came back.

Source: common practice, no published source. The words stand in ``symptoms.toml``.
"""

import re
import tomllib
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache
from pathlib import Path

from shop.work.domain.closing import REPAIRED

TABLE = Path(__file__).parents[3] / "fixtures/reference/symptoms.toml"


@dataclass(frozen=True)
class Symptom:
    """``words`` are beginnings of words; the name is translated where it is shown."""

    key: str
    name: str
    words: tuple[str, ...] = ()

    def is_told(self, complaint: str) -> bool:
        return any(re.search(rf"\b{re.escape(word)}", complaint) for word in self.words)


@dataclass(frozen=True)
class Symptoms:
    """The table; ``repeat_days`` after a repair a machine that comes is a repeat."""

    rows: Sequence[Symptom]
    repeat_days: int

    def of(self, complaint: str) -> Symptom | None:
        """The first symptom that a complaint tells; None when none of the words stands there."""
        text = " ".join(complaint.casefold().replace("’", "'").split())
        return next((row for row in self.rows if row.is_told(text)), None)


@cache
def symptoms() -> Symptoms:
    """The table as shipped; read once."""
    data = tomllib.loads(TABLE.read_text(encoding="utf-8"))
    rows = [Symptom(row["key"], row["name"], tuple(row["words"])) for row in data["symptoms"]]
    return Symptoms(rows, data["repeat_days"])


@dataclass(frozen=True)
class Fix:
    """A closed job: ``done`` are (component, fate) pairs; ``back_on`` the day on which the same
    machine came next, if it did."""

    number: str
    complaint: str
    outcome: str
    closed_on: date
    done: tuple[tuple[str, str], ...] = ()
    back_on: date | None = None

    def came_back(self, days: int) -> bool:
        return self.back_on is not None and self.back_on <= self.closed_on + timedelta(days)


@dataclass(frozen=True)
class SymptomRecord:
    """All past fixes of one symptom (None: of complaints that tell none), the newest first.

    ``outcomes`` and ``done`` are counted, the most frequent first. Of the ``judged`` repairs, old
    enough to tell or back already, so many came ``back``.
    """

    symptom: Symptom | None
    fixes: tuple[Fix, ...]
    outcomes: tuple[tuple[str, int], ...]
    done: tuple[tuple[tuple[str, str], int], ...]
    judged: int
    back: int


def by_symptom(fixes: Iterable[Fix], table: Symptoms, on: date) -> list[SymptomRecord]:
    """The record of each symptom that was ever told, the most frequent first."""
    groups: dict[Symptom | None, list[Fix]] = {}
    for fix in sorted(fixes, key=lambda fix: (fix.closed_on, fix.number), reverse=True):
        groups.setdefault(table.of(fix.complaint), []).append(fix)
    records = [_record(symptom, group, table, on) for symptom, group in groups.items()]
    records.sort(key=lambda record: (record.symptom is None, -len(record.fixes)))
    return records


def _record(symptom, fixes: Sequence[Fix], table: Symptoms, on: date) -> SymptomRecord:
    repaired = [fix for fix in fixes if fix.outcome == REPAIRED]
    back = [fix.came_back(table.repeat_days) for fix in repaired]
    old = [fix.closed_on + timedelta(table.repeat_days) <= on for fix in repaired]
    return SymptomRecord(
        symptom=symptom,
        fixes=tuple(fixes),
        outcomes=tuple(Counter(fix.outcome for fix in fixes).most_common()),
        done=tuple(Counter(pair for fix in fixes for pair in fix.done).most_common()),
        judged=sum(was_back or is_old for was_back, is_old in zip(back, old, strict=True)),
        back=sum(back),
    )
