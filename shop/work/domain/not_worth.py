"""Whether a repair is worth its money: what it costs beside what the machine would fetch after it.

Source: common practice, no published source; the shares are shop defaults.
"""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

DOUBTFUL_FROM = Decimal("0.5")  # of what the machine would fetch


class Worth(StrEnum):
    WORTH = "worth"
    DOUBTFUL = "doubtful"
    NOT_WORTH = "not-worth"
    UNKNOWN = "unknown"


@dataclass(frozen=True)
class Weighed:
    """``share`` is the cost as a share of the middle of what the machine would fetch."""

    word: Worth
    share: Decimal | None = None


def weigh(cost: Decimal, middle: Decimal | None) -> Weighed:
    """Compare a repair's cost before tax with what the machine would fetch, put right.

    Whether parts can still be had is told beside it: without them the next fault ends the machine.
    """
    if not middle:
        return Weighed(Worth.UNKNOWN)
    share = cost / middle
    if share >= 1:
        return Weighed(Worth.NOT_WORTH, share)
    if share >= DOUBTFUL_FROM:
        return Weighed(Worth.DOUBTFUL, share)
    return Weighed(Worth.WORTH, share)
