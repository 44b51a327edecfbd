"""Which looks at a machine still stand: a later look answers an earlier one of the same step."""

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True)
class Look:
    """One look: ``key`` is the step's, the same in every protocol that asks the same question.

    ``ref`` is whatever the caller wants back. ``possible`` is false when it could not be done.
    """

    ref: object
    key: str
    sound: bool
    possible: bool
    cleared: bool


def standing(newest_first: Iterable[Look]) -> list[Look]:
    """The looks of one machine that are not sound and not cleared, newest first.

    Only the same step answers itself: a belt that tracks well is not thereby unworn. A look that
    was not possible stands, yet hides no earlier one that was.
    """
    found: list[Look] = []
    answered: set[str] = set()
    gaps: set[str] = set()
    for look in newest_first:
        if look.key in answered or (not look.possible and look.key in gaps):
            continue
        if look.possible or look.cleared:
            answered.add(look.key)
        else:
            gaps.add(look.key)
        if not look.sound and not look.cleared:
            found.append(look)
    return found
