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
class Scope:
    """``keys`` are the steps to ask, in order, or None for every one; ``run_in`` is in minutes,
    None where the kind has no run-in."""

    keys: tuple[str, ...] | None
    run_in: int | None

    @property
    def full(self) -> bool:
        return self.keys is None


def scope_of(
    steps: Iterable[Asked],
    run_in: Mapping,
    *,
    work: Collection[str],
    place: str = BENCH,
    full: bool = False,
) -> Scope:
    """The part of a final test that work on these components asks for at a place.

    Safety stops and the repaired function are always part of it. All of it is asked for resale
    (``full``), and where nobody wrote down what was worked on.
    """
    worked = set(work)
    minutes = run_in_minutes(run_in, work=worked, place=place)
    if full or not worked:
        return Scope(None, minutes)
    return Scope(tuple(step.key for step in steps if _is_asked(step, worked, place)), minutes)


def _is_asked(step: Asked, worked: set[str], place: str) -> bool:
    follows = worked & (set(step.after) | set(step.judged))
    return step.always or place in step.places or bool(follows)


def run_in_minutes(run_in: Mapping, *, work: Collection[str], place: str) -> int | None:
    """Longer after work on the drive (at the bench longest), else short.

    Shop defaults 20 at the bench, 10 away from it, else 5: common practice, no published source.
    """
    if not run_in:
        return None
    return run_in[place] if set(run_in["drive"]) & set(work) else run_in["otherwise"]


def joined(one: Collection[str] | None, other: Collection[str] | None) -> list[str] | None:
    """What is asked when a test begun under one scope goes on under another: both."""
    if one is None or other is None:
        return None
    return list(dict.fromkeys([*one, *other]))
