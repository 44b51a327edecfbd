"""How likely it is that a word still holds, learnt from how such words have changed before.

What a maker said changes at some unknown moment between two answers. With changes at a constant
rate, a pair of answers ``gap`` years apart that agree has the likelihood ``exp(-rate * gap)``, a
pair that disagrees ``1 - exp(-rate * gap)``, and a change whose day is known (a published end)
after ``gap`` years ``rate * exp(-rate * gap)``. The rate has a gamma prior. Standard survival
analysis with interval censoring; with exact days only, the posterior is gamma again and a word
survives ``t`` years with ``(b / (b + t)) ** a`` (Lomax).

Two answers may also disagree because one of them was wrong, though nothing changed: with the chance
``spoilt`` of that, a pair that disagrees has ``1 - (1 - spoilt) * exp(-rate * gap)``.
"""

import math
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

YEAR = 365.25
NODES = 800
# The rate is integrated over its logarithm; beyond these bounds no posterior has any weight left.
LEAST, MOST = math.log(1e-18), math.log(1e3)
NEGLIGIBLE = 1e-15


@dataclass(frozen=True)
class Prior:
    """A gamma prior of a rate a year: ``shape`` changes seen in ``years`` of watching."""

    shape: float
    years: float


@dataclass(frozen=True)
class Watched:
    """What was seen, as far as it bears on the rate.

    ``same_years``: all gaps between answers that agreed, added up; ``changed``: gaps in years
    between answers that disagreed, and how many of each; ``exact`` changes whose day is known
    came after ``exact_years`` altogether.
    """

    same_years: float = 0.0
    changed: Mapping[float, int] = field(default_factory=dict)
    exact: int = 0
    exact_years: float = 0.0


@dataclass(frozen=True)
class Rate:
    """A posterior of a rate of change: ``(changes a year, weight)``, the weights summing to one."""

    grid: tuple[tuple[float, float], ...]

    def mean(self) -> float:
        """Changes a year to be expected."""
        return sum(rate * weight for rate, weight in self.grid)

    def holds(self, years: float) -> float:
        """The chance that a word this old has not changed, 0 to 1."""
        return sum(math.exp(-rate * max(years, 0.0)) * weight for rate, weight in self.grid)


def posterior(prior: Prior, seen: Watched, wrong: float = 0.0) -> Rate:
    """What is believed of a rate after watching; each answer was wrong with the chance ``wrong``.

    By the trapezoid rule over the rate's logarithm: for an integrand that is smooth and dies away
    at both ends it converges faster than any power of the step.
    """
    step = (MOST - LEAST) / NODES
    logs = [LEAST + step * at for at in range(NODES + 1)]
    spoilt = 1 - (1 - wrong) ** 2
    heights = [_log_density(log, prior, seen, spoilt) for log in logs]
    top = max(heights)
    weights = [math.exp(height - top) for height in heights]
    total = sum(weights)
    return Rate(
        tuple(
            (math.exp(log), weight / total)
            for log, weight in zip(logs, weights, strict=True)
            if weight > total * NEGLIGIBLE
        )
    )


def _log_density(log: float, prior: Prior, seen: Watched, spoilt: float) -> float:
    """Logarithm of prior times likelihood times the rate (the logarithm's Jacobian)."""
    rate = math.exp(log)
    years = prior.years + seen.same_years + seen.exact_years
    changed = sum(
        count * math.log(spoilt - (1 - spoilt) * math.expm1(-rate * gap))
        for gap, count in seen.changed.items()
    )
    return (prior.shape + seen.exact) * log - years * rate + changed


@dataclass(frozen=True)
class Sequel:
    """Two successive answers by one route: days apart, and whether the second said another thing.

    ``word`` is the status of the first; ``exact`` says that the day of the change is known.
    """

    word: str
    days: int
    changed: bool
    exact: bool = False


def watched(sequels: Iterable[Sequel]) -> Watched:
    """What some sequels show of their rate; answers of one day teach nothing."""
    same = exact = exact_days = 0
    changed: Counter[int] = Counter()
    for one in sequels:
        if one.days <= 0:
            continue
        if not one.changed:
            same += one.days
        elif one.exact:
            exact, exact_days = exact + 1, exact_days + one.days
        else:
            changed[one.days] += 1
    gaps = {days / YEAR: count for days, count in changed.items()}
    return Watched(same / YEAR, gaps, exact, exact_days / YEAR)


def still_holds(rate: Rate, age_days: int, wrong: float) -> float:
    """The chance that a word was right (it was wrong with the chance ``wrong``) and still holds."""
    return (1 - wrong) * rate.holds(age_days / YEAR)


def asked_share(prior: float, strength: float, yes: int, asked: int) -> float:
    """The chance that a thing never asked for can be had, from a stated prior share and the answers
    about its like: the mean of a beta posterior whose prior counts as ``strength`` answers."""
    return (prior * strength + yes) / (strength + asked)
