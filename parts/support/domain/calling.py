"""Whom to ask next: what hangs on an answer today times how unsure it is."""

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True)
class Question:
    """A model that could be asked about. ``weight`` is what hangs on it, ``holds`` the chance that
    what we believe is true (of a model never asked: that parts can be had)."""

    model: int
    weight: float
    holds: float
    settled: bool = False

    @property
    def doubt(self) -> float:
        """0 for what is certain, 1 for an even chance: the variance of a yes or no, times four."""
        return 0.0 if self.settled else 4 * self.holds * (1 - self.holds)

    @property
    def urgency(self) -> float:
        return self.weight * self.doubt


def call_order(questions: Iterable[Question], least: float = 0.0) -> list[Question]:
    """The questions worth a call, the most urgent first; ``least`` urgency is left out."""
    worth = [one for one in questions if one.urgency > least]
    return sorted(worth, key=lambda one: (-one.urgency, one.model))
