"""What a machine would fetch, from what like machines fetched.

The logarithm of a price, brought to one age, is taken as normal. What is believed of a kind and
grade counts as so many sales; what kind and grade then come to counts as so many against a model's
own sales. With the variance known that is the conjugate normal: the mean is the weighted mean, the
weights the numbers of sales (Bernardo and Smith, Bayesian Theory, from memory). The beliefs: common
practice, no published source.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from math import exp, log, sqrt
from statistics import NormalDist

TENTH = NormalDist().inv_cdf(0.9)  # standard deviations from the middle to the 90th percentile


@dataclass(frozen=True)
class Belief:
    """What is held to be true before a shop has sold much; see ``worth.toml``."""

    middle: Mapping[str, Mapping[str, float]]
    worth_sales: float
    model_worth_sales: float
    spread: float
    yearly_loss: float
    usual_age: float

    def middle_of(self, kind: str, grade: str) -> float | None:
        """Believed price of a kind and grade at the usual age; of an unknown grade the lowest."""
        of_kind = self.middle.get(kind, {})
        return of_kind.get(grade) or min(of_kind.values(), default=None)


@dataclass(frozen=True)
class Like:
    """A machine: of which model, kind and grade, and how many years old, if anybody knows."""

    model: int
    kind: str
    grade: str
    age: float | None


@dataclass(frozen=True)
class Sold:
    """What a like machine fetched, before tax."""

    machine: Like
    price: Decimal


@dataclass(frozen=True)
class Worth:
    """What it would fetch: 10th percentile, middle and 90th, whole units of the currency.

    ``of_kind`` counts the sales behind it, ``of_model`` those of its own model among them;
    ``believed`` says whether a belief is part of it.
    """

    low: Decimal
    middle: Decimal
    high: Decimal
    of_model: int
    of_kind: int
    believed: bool


def read_belief(table: Mapping) -> Belief:
    """The beliefs from the reference file. Raises KeyError for one that is missing."""
    return Belief(middle=table["middle"], **table["belief"])


def worth_of(machine: Like, sold: Sequence[Sold], belief: Belief) -> Worth | None:
    """What it would fetch; None where neither a sale nor a belief speaks of its kind and grade."""
    alike = [one for one in sold if _alike(one.machine, machine)]
    own = [_even(one, belief) for one in alike if one.machine.model == machine.model]
    others = [_even(one, belief) for one in alike if one.machine.model != machine.model]
    start = belief.middle_of(machine.kind, machine.grade)
    if start is None and not alike:
        return None
    believed = Mean(log(start), belief.worth_sales) if start else Mean(0.0, 0.0)
    of_kind = believed.with_values(others)
    # However many others there are, another model is only so much like this one.
    lent = Mean(of_kind.value, belief.model_worth_sales if of_kind.weight else 0.0)
    of_model = lent.with_values(own)
    unsure = belief.spread * sqrt(1 + 1 / of_model.weight + _lent_error(of_kind, lent, of_model))
    centre = of_model.value - _aged(machine, belief)
    spread = (centre - TENTH * unsure, centre, centre + TENTH * unsure)
    return Worth(*(whole(exp(value)) for value in spread), len(own), len(alike), bool(start))


@dataclass(frozen=True)
class Mean:
    """A mean, and how many values it weighs as much as; no value at all weighs nothing."""

    value: float
    weight: float

    def with_values(self, values: Sequence[float]) -> "Mean":
        weight = self.weight + len(values)
        return Mean((self.value * self.weight + sum(values)) / weight, weight) if weight else self


def _lent_error(of_kind: Mean, lent: Mean, of_model: Mean) -> float:
    """What the mean lent by the kind may be off, as a share of the variance of one price."""
    return (lent.weight / of_model.weight) ** 2 / of_kind.weight if of_kind.weight else 0.0


def whole(amount: float) -> Decimal:
    """The nearest whole unit of the currency, a half up: an estimate is no more exact than that."""
    return Decimal(amount).quantize(Decimal(1), ROUND_HALF_UP)


def _alike(one: Like, other: Like) -> bool:
    return (one.kind, one.grade) == (other.kind, other.grade)


def _aged(machine: Like, belief: Belief) -> float:
    """What the logarithm of its price has lost against a machine of the usual age."""
    years = belief.usual_age if machine.age is None else machine.age
    return belief.yearly_loss * (years - belief.usual_age)


def _even(sold: Sold, belief: Belief) -> float:
    """The logarithm of its price, as if it had had the usual age."""
    return log(sold.price) + _aged(sold.machine, belief)
