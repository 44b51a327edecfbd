"""Whether a repair is worth its money: what it costs beside what the machine would fetch after it,
and whether it can be done, and go on, at all.

Source: common practice, no published source; the shares are shop defaults.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from math import prod

DOUBTFUL_FROM = Decimal("0.5")  # of what the machine would fetch


class Worth(StrEnum):
    WORTH = "worth"
    DOUBTFUL = "doubtful"
    NOT_WORTH = "not-worth"
    CANNOT = "cannot"
    UNKNOWN = "unknown"


@dataclass(frozen=True)
class Parts:
    """Which of the components that a repair needs a part for cannot be had by any route, and of
    which nobody knows; ``ends`` is the chance, 0 to 1, that the machine needs one of those that are
    gone the next time it comes in: without it that fault ends it."""

    cannot: tuple[str, ...] = ()
    unsure: tuple[str, ...] = ()
    ends: float = 0.0


@dataclass(frozen=True)
class Weighed:
    """``share`` is the cost as a share of ``counted``: the middle of what the machine would fetch,
    less the chance that the next fault ends it."""

    word: Worth
    share: Decimal | None = None
    counted: Decimal | None = None


def weigh(cost: Decimal, middle: Decimal | None, parts: Parts = Parts()) -> Weighed:
    """Compare a repair's cost before tax with what the machine would fetch, put right.

    What cannot be had makes it impossible whatever it costs; what nobody knows leaves a doubt.
    """
    counted = middle and middle * (1 - Decimal(str(parts.ends)))
    share = cost / counted if counted else None
    if parts.cannot:
        return Weighed(Worth.CANNOT, share, counted)
    if share is None:
        return Weighed(Worth.UNKNOWN)
    if share >= 1:
        return Weighed(Worth.NOT_WORTH, share, counted)
    if share >= DOUBTFUL_FROM or parts.unsure:
        return Weighed(Worth.DOUBTFUL, share, counted)
    return Weighed(Worth.WORTH, share, counted)


def any_of(chances: Iterable[float]) -> float:
    """The chance that at least one comes true, each taken to be independent of the others."""
    return 1 - prod(1 - one for one in chances)
