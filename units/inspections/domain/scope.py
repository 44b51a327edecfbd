"""What a final test asks: it follows the work, the kind and the place.

Source: common practice, no published source. What is asked when stands in the protocols' tables.
"""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from typing import Protocol

BENCH, HOME, CLUB = "bench", "home", "club"


class Asked(Protocol):
    """What the scope needs of a step."""

    key: str
    always: bool
    after: Collection[str]
    places: Collection[str]
    judged: Collection[str]


@dataclass(frozen=True)
class Work:
    """What was worked on, where the test is made, and whether all of it is asked for."""

    components: Collection[str] = ()
    place: str = BENCH
    full: bool = False


@dataclass(frozen=True)
class Scope:
    """``keys`` are the steps to ask, in order, or None for every one; ``run_in`` is in minutes,
    None where the kind has no run-in."""

    keys: tuple[str, ...] | None
    run_in: int | None

    @property
    def full(self) -> bool:
        return self.keys is None


def scope_of(steps: Iterable[Asked], run_in: Mapping, work: Work) -> Scope:
    """The part of a final test that some work asks for.

    Safety stops and the repaired function are always part of it. All of it is asked for resale
    (``full``), and where nobody wrote down what was worked on.
    """
    minutes = run_in_minutes(run_in, work)
    if work.full or not work.components:
        return Scope(None, minutes)
    return Scope(tuple(step.key for step in steps if _is_asked(step, work)), minutes)


def _is_asked(step: Asked, work: Work) -> bool:
    follows = set(work.components) & (set(step.after) | set(step.judged))
    return step.always or work.place in step.places or bool(follows)


def run_in_minutes(run_in: Mapping, work: Work) -> int | None:
    """Longer after work on the drive (at the bench longest), else short; long as well where nobody
    wrote down what was worked on.

    Shop defaults 20 at the bench, 10 away from it, else 5: common practice, no published source.
    """
    if not run_in:
        return None
    on_the_drive = not work.components or set(run_in["drive"]) & set(work.components)
    return run_in[work.place] if on_the_drive else run_in["otherwise"]


def joined(one: Collection[str] | None, other: Collection[str] | None) -> list[str] | None:
    """What is asked when a test begun under one scope goes on under another: both."""
    if one is None or other is None:
        return None
    return list(dict.fromkeys([*one, *other]))
