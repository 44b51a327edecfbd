"""What we stand for after a repair: who is owed what until when, and how often it failed again.

Source: common practice, no published source; local consumer law may give more.
"""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal


@dataclass(frozen=True)
class Term:
    """Days for the part and for the labour of a kind of work; 0 stands for nothing."""

    parts_days: int
    labour_days: int


@dataclass(frozen=True)
class Owed:
    """What is owed on one component; the last day counts. None: nothing of that."""

    component: str
    parts_until: date | None
    labour_until: date | None

    @property
    def until(self) -> date | None:
        return max((day for day in (self.parts_until, self.labour_until) if day), default=None)

    def runs(self, on: date) -> bool:
        return self.until is not None and on <= self.until

    def covers(self, part: bool, on: date) -> bool:
        """Whether the part, or else the labour, is owed on a day."""
        until = self.parts_until if part else self.labour_until
        return until is not None and on <= until


def owed(done: Iterable[tuple[str, str]], terms: Mapping[str, Term], from_on: date) -> list[Owed]:
    """What ``(component, kind of work)`` pairs are owed from the day the machine went back."""
    found = [_owed(component, terms[work], from_on) for component, work in done if work in terms]
    return sorted((one for one in found if one.until), key=lambda one: one.component)


def _owed(component: str, term: Term, from_on: date) -> Owed:
    return Owed(component, _until(from_on, term.parts_days), _until(from_on, term.labour_days))


def _until(from_on: date, days: int) -> date | None:
    return from_on + timedelta(days) if days else None


@dataclass(frozen=True)
class Repair:
    """A closed repair: what was done, and what each return under its warranty did and cost us."""

    model: int
    components: frozenset[str]
    returns: tuple["Return", ...] = ()


@dataclass(frozen=True)
class Return:
    components: frozenset[str]
    cost: Decimal = Decimal(0)


@dataclass(frozen=True)
class Record:
    """Of ``repairs`` so many came ``back`` at least once; ``cost`` is what all returns cost us."""

    repairs: int
    back: int
    cost: Decimal

    @property
    def share(self) -> float:
        return self.back / self.repairs


def by_model(repairs: Iterable[Repair]) -> dict[int, Record]:
    groups: dict[int, list[Repair]] = {}
    for repair in repairs:
        groups.setdefault(repair.model, []).append(repair)
    return {model: _record(group) for model, group in groups.items()}


def _record(repairs: list[Repair]) -> Record:
    back = [repair for repair in repairs if repair.returns]
    cost = sum((one.cost for repair in back for one in repair.returns), Decimal(0))
    return Record(len(repairs), len(back), cost)


def by_cause(repairs: Iterable[Repair]) -> dict[str, tuple[int, int, int]]:
    """``{component: (repairs, came back for it, came back for something else)}``.

    A repair counts once for each component it dealt with. Coming back for it means that a return
    dealt with the same component again; for a return that found nothing to do nobody knows a cause.
    """
    done, again, other = Counter(), Counter(), Counter()
    for repair in repairs:
        returned = frozenset().union(*(one.components for one in repair.returns))
        for component in repair.components:
            done[component] += 1
            again[component] += component in returned
            other[component] += bool(repair.returns) and component not in returned
    return {one: (done[one], again[one], other[one]) for one in done}
