"""Was the bid right? What was predicted of past lots against what came of them."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

TAIL = 0.025  # on each side of a 95 % interval
NORMAL_95 = 1.959963984540054  # the two-sided 95 % bound of a standard normal


@dataclass(frozen=True)
class Share:
    """A share (or a mean) with the bounds of its 95 % interval."""

    value: float
    low: float
    high: float


def rank_of(realised: float, draws: np.ndarray) -> float:
    """The share of the draws below what came, ties by half: uniform where predictions are right."""
    below, upto = np.count_nonzero(draws < realised), np.count_nonzero(draws <= realised)
    return float(below + upto) / (2 * len(draws))


def rank_histogram(ranks: Sequence[float], bins: int = 10) -> list[int]:
    """How many ranks fall into each of so many equal bins of 0 to 1.

    Flat where predictions are right, a bowl where they are too sure, a hill where too unsure, a
    slope where they are too high or too low.
    """
    return np.histogram(ranks, bins=bins, range=(0.0, 1.0))[0].tolist()


def within(rank: float, share: float) -> bool:
    """Whether what came lay in the middle ``share`` of the prediction."""
    return (1 - share) / 2 <= rank <= (1 + share) / 2


def share_by_cluster(hits: Sequence[Sequence[bool]]) -> Share:
    """The share of hits over all clusters (shops), its error from how the clusters differ.

    The linearised variance of a ratio over clusters; a single cluster tells nothing of its error.
    """
    counts = np.array([len(one) for one in hits], float)
    sums = np.array([sum(one) for one in hits], float)
    if not counts.sum():
        raise ValueError("nothing to judge")
    value, clusters = sums.sum() / counts.sum(), len(counts)
    if clusters == 1:
        return Share(float(value), 0.0, 1.0)
    off = sums - value * counts
    error = math.sqrt(clusters / (clusters - 1) * float(off @ off)) / counts.sum()
    return Share(float(value), float(value - NORMAL_95 * error), float(value + NORMAL_95 * error))


def exact_share(hits: int, count: int) -> Share:
    """The share of hits among independent trials with its exact 95 % interval (Clopper and Pearson
    1934): the chances under which so many, or so few, come in no less than 2.5 of 100 cases.

    Raises ``ValueError`` where there was no trial.
    """
    if not count:
        raise ValueError("nothing to judge")
    low = _chance_where(lambda chance: _at_most(count - hits, count, 1 - chance), rises=True)
    high = _chance_where(lambda chance: _at_most(hits, count, chance), rises=False)
    return Share(hits / count, low if hits else 0.0, high if hits < count else 1.0)


def _at_most(hits: int, count: int, chance: float) -> float:
    """The chance of so many hits or fewer."""
    return sum(
        math.comb(count, k) * chance**k * (1 - chance) ** (count - k) for k in range(hits + 1)
    )


def _chance_where(tail: Callable[[float], float], *, rises: bool) -> float:
    """Where a tail that rises or falls with the chance crosses 2.5 of 100, by halving."""
    low, high = 0.0, 1.0
    for _step in range(60):
        middle = (low + high) / 2
        if (tail(middle) > TAIL) == rises:
            high = middle
        else:
            low = middle
    return (low + high) / 2


def mean_by_cluster(values: Sequence[float]) -> Share:
    """The mean of one figure for each cluster, with the bounds of its 95 % interval.

    Raises ``ValueError`` for fewer than two: one alone tells nothing of the error.
    """
    if len(values) < 2:
        raise ValueError("one cluster tells nothing of the error")
    mean = float(np.mean(values))
    error = NORMAL_95 * float(np.std(values, ddof=1)) / math.sqrt(len(values))
    return Share(mean, mean - error, mean + error)
