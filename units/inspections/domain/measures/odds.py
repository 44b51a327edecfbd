"""What a measured value says of worn or sound, as odds.

Two lognormal populations of one spread, the chance before the measurement, and the measurement's
own uncertainty: Bayes' theorem in the logarithm, where all of them are normal.
"""

from dataclasses import dataclass
from math import exp, log, sqrt
from statistics import NormalDist

STANDARD = NormalDist()
LEAST = 1e-9  # of a value whose logarithm is taken: nothing measured is less


@dataclass(frozen=True)
class Populations:
    """Medians of the sound and the worn, the standard deviation of their logarithm, the value from
    which one counts as worn, and the chance of worn before anything was measured."""

    new: float
    worn: float
    spread: float
    threshold: float
    before: float


@dataclass(frozen=True)
class Odds:
    """``worn``: the chance that it belongs to the worn; ``beyond``: that the true value lies beyond
    the threshold. Both from 0 to 1."""

    worn: float
    beyond: float


def odds_of(value: float, uncertainty: float, among: Populations) -> Odds:
    """The odds after a measurement. A value of nothing or less counts as the least there is: it is
    then as sure as the spread of the populations allows."""
    value = max(value, LEAST)
    own = min(uncertainty / value, 1e3)
    seen, wide = log(value), sqrt(among.spread**2 + own**2)
    middles = (log(among.new), log(among.worn))
    likely = [-(((seen - middle) / wide) ** 2) / 2 for middle in middles]
    worn = _share(likely[1] - likely[0], among.before)
    beyond = [
        1 - STANDARD.cdf((log(among.threshold) - mean) / deviation)
        for mean, deviation in (_narrowed(seen, own, middle, among.spread) for middle in middles)
    ]
    return Odds(worn=worn, beyond=(1 - worn) * beyond[0] + worn * beyond[1])


def beyond(number, most: float) -> float:
    """The chance that a value with a normal uncertainty lies above ``most``."""
    if number.std_dev == 0:
        return float(number.nominal_value > most)
    return 1 - NormalDist(number.nominal_value, number.std_dev).cdf(most)


def _share(evidence: float, before: float) -> float:
    """The chance after evidence given as the logarithm of a likelihood ratio."""
    total = evidence + log(before / (1 - before))
    return 1 / (1 + exp(-total)) if total > -700 else 0.0


def _narrowed(seen, own, middle, spread) -> tuple[float, float]:
    """Mean and deviation of the true value (logarithm) within one population."""
    if own == 0:
        return seen, 1e-12
    weight = spread**2 / (spread**2 + own**2)
    return weight * seen + (1 - weight) * middle, spread * sqrt(1 - weight)
