"""What a set of read photos whose truth is known says about the reader."""

import math
import random
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

BINS = (0.0, 0.1, 0.3, 0.5, 0.7, 0.8, 0.9, 0.95, 0.98, 0.99, 1.0)
RESAMPLES = 2000
SEED = 1


@dataclass(frozen=True)
class Trial:
    """One photo of the study: where it comes from, what was read, what was right.

    ``outcome`` is that of the whole photo; ``fields`` gives for model and serial the confidence,
    the field's outcome and whether it was right (by match key).
    """

    family: str
    tier: str
    outcome: str
    fields: dict[str, tuple[float, str, bool]]
    seconds: float

    def right(self, name: str) -> bool:
        return self.fields[name][2]

    @property
    def wrong_but_sure(self) -> bool:
        return self.outcome == "sure" and not all(right for *_rest, right in self.fields.values())


@dataclass(frozen=True)
class Bin:
    """One row of a reliability table: what was stated on average and what came true."""

    low: float
    high: float
    count: int
    stated: float
    came_true: float


def share(trials: Sequence[Trial], holds: Callable[[Trial], bool]) -> float:
    return sum(map(holds, trials)) / len(trials) if trials else math.nan


def upper_bound(wrong: int, count: int, level: float = 0.95) -> float:
    """The one-sided exact (Clopper-Pearson) upper bound of a share, by bisection.

    The largest share under which seeing ``wrong`` or fewer of ``count`` still has the chance
    ``1 - level``. Clopper and Pearson, Biometrika 26 (1934) 404-413.
    """
    if count == 0 or wrong >= count:
        return 1.0
    low, high = wrong / count, 1.0
    for _step in range(100):
        middle = (low + high) / 2
        if _at_most(wrong, count, middle) > 1 - level:
            low = middle
        else:
            high = middle
    return high


def _at_most(wrong: int, count: int, chance: float) -> float:
    """The binomial chance of ``wrong`` or fewer."""
    if chance <= 0:
        return 1.0
    if chance >= 1:
        return 0.0
    logs = [
        math.lgamma(count + 1)
        - math.lgamma(seen + 1)
        - math.lgamma(count - seen + 1)
        + seen * math.log(chance)
        + (count - seen) * math.log1p(-chance)
        for seen in range(wrong + 1)
    ]
    top = max(logs)
    return math.exp(top) * sum(math.exp(one - top) for one in logs)


def resampled_bound(trials: Sequence[Trial], level: float = 0.95) -> float:
    """The upper bound of the share of sure photos that are wrong, families drawn anew.

    A bootstrap of whole families (clusters): photos of one design are no independent witnesses.
    It is 0 when no sure photo is wrong, whatever is drawn.
    """
    families = sorted({one.family for one in trials})
    counts = {
        family: (
            sum(one.wrong_but_sure for one in trials if one.family == family),
            sum(one.outcome == "sure" for one in trials if one.family == family),
        )
        for family in families
    }
    draw = random.Random(SEED)  # noqa: S311 - a study repeats the same draws
    shares = []
    for _resample in range(RESAMPLES):
        chosen = draw.choices(families, k=len(families))
        sure = sum(counts[family][1] for family in chosen)
        wrong = sum(counts[family][0] for family in chosen)
        shares.append(wrong / sure if sure else 0.0)
    return sorted(shares)[math.ceil(level * RESAMPLES) - 1]


def reliability(trials: Sequence[Trial], name: str) -> list[Bin]:
    """For each range of stated confidence: how many, what was stated, how many came true."""
    rows = []
    for low, high in pairwise(BINS):
        inside = [
            one.fields[name]
            for one in trials
            if low <= one.fields[name][0] < high or one.fields[name][0] == high == 1.0
        ]
        if inside:
            stated = sum(confidence for confidence, *_rest in inside) / len(inside)
            true = sum(right for *_rest, right in inside) / len(inside)
            rows.append(Bin(low, high, len(inside), stated, true))
    return rows


def percentile(values: Sequence[float], part: float) -> float:
    """The smallest value that at least ``part`` of all do not exceed (nearest rank)."""
    ranked = sorted(values)
    return ranked[max(0, math.ceil(part * len(ranked)) - 1)]
