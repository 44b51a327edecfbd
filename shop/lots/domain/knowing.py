"""What an answer is worth in expected money, by parting the draws by what would be answered.

An act pays a line in the outcomes of a draw. With an answer the best act is chosen for the draws
that give it, without one for all of them; the worth is the difference. Acts are chosen on one half
of the draws and judged on the other, so noise is not taken for knowledge: an estimate may be a
little below nothing, and its standard error says how little.
"""

import math
from dataclasses import dataclass

import numpy as np

from shop.lots.domain.prices import OFFERS, Terms, most_to_pay
from shop.lots.domain.reserve import Reserve

ERRORS = 2.0  # a worth of fewer standard errors is not distinguishable from nothing
BATCHES = 10  # into which the draws are dealt for an error
AT_ONCE = 1024  # draws whose best act is sought together


@dataclass(frozen=True)
class Acts:
    """Act ``a`` pays ``gains[a] @ outcomes + constants[a]``; acts x outcomes, and acts."""

    gains: np.ndarray
    constants: np.ndarray

    def pays(self, outcomes: np.ndarray) -> np.ndarray:
        """Acts x draws, of outcomes x draws."""
        return self.gains @ outcomes + self.constants[:, None]

    def best(self, outcomes: np.ndarray) -> np.ndarray:
        """The place of the best act for each column."""
        parts = range(0, outcomes.shape[1], AT_ONCE)
        found = [self.pays(outcomes[:, at : at + AT_ONCE]).argmax(axis=0) for at in parts]
        return np.concatenate(found)

    def paid(self, act: np.ndarray | int, outcomes: np.ndarray) -> np.ndarray:
        """What a given act (one, or one for each draw) pays in each draw."""
        gains = self.gains[act]
        if gains.ndim == 1:
            return gains @ outcomes + self.constants[act]
        return np.einsum("dk,kd->d", gains, outcomes) + self.constants[act]


@dataclass(frozen=True)
class Worth:
    """Expected money and its standard error."""

    value: float
    error: float

    @property
    def tells(self) -> bool:
        """Whether it is distinguishable from nothing."""
        return self.value > 0 and self.value >= ERRORS * self.error


@dataclass(frozen=True)
class LimitChange:
    """By how much the most to pay is expected to change with an answer; it may fall."""

    value: float
    error: float


def at_ask(ask: float) -> Acts:
    """Leave the lot, or pay what the seller asks; the outcome is back less costs."""
    return Acts(np.array([[0.0], [1.0]]), np.array([0.0, -ask]))


def at_offer(reserve: Reserve) -> Acts:
    """Offer any price; the outcome is back less costs."""
    offers = np.linspace(0.0, reserve.highest, OFFERS)
    taken = reserve.accepts(offers)
    return Acts(taken[:, None], -taken * offers)


def worth_of_answer(outcomes: np.ndarray, answers: np.ndarray, acts: Acts) -> Worth:
    """The worth of learning ``answers`` (whole numbers from 0, one a draw) before the act.

    ``outcomes`` are outcomes x draws. Raises ``ValueError`` for fewer than four draws.
    """
    count = outcomes.shape[1]
    if count < 4:
        raise ValueError("too few draws to judge an answer by")
    gained = np.empty(count)
    halves = np.arange(count) % 2 == 0
    for learnt in (halves, ~halves):
        judged = ~learnt
        plain, told = _chosen(outcomes[:, learnt], answers[learnt], acts, answers.max() + 1)
        ours = outcomes[:, judged]
        gained[judged] = acts.paid(told[answers[judged]], ours) - acts.paid(plain, ours)
    return _mean(gained)


def worth_of_everything(outcomes: np.ndarray, acts: Acts) -> Worth:
    """The worth of knowing each draw's outcomes: no answer is worth more."""
    plain = int(acts.best(outcomes.mean(axis=1, keepdims=True))[0])
    gained = acts.paid(acts.best(outcomes), outcomes) - acts.paid(plain, outcomes)
    return _mean(gained)


def change_of_limit(
    back: np.ndarray, costs: np.ndarray, answers: np.ndarray, terms: Terms
) -> LimitChange:
    """How the most to pay changes on average once the answer is known; error from batches."""
    value = _change(back, costs, answers, terms)
    every = [slice(at, None, BATCHES) for at in range(BATCHES)]
    batches = [_change(back[at], costs[at], answers[at], terms) for at in every]
    return LimitChange(value, float(np.std(batches, ddof=1) / math.sqrt(BATCHES)))


def _change(back: np.ndarray, costs: np.ndarray, answers: np.ndarray, terms: Terms) -> float:
    value = -most_to_pay(back, costs, terms).amount
    for answer in np.unique(answers):
        gave = answers == answer
        value += gave.mean() * most_to_pay(back[gave], costs[gave], terms).amount
    return float(value)


def _chosen(outcomes: np.ndarray, answers: np.ndarray, acts: Acts, kinds: int):
    """The best act without an answer, and with each; for one never given, that without."""
    plain = int(acts.best(outcomes.mean(axis=1, keepdims=True))[0])
    given = np.bincount(answers, minlength=kinds)
    sums = np.array([np.bincount(answers, weights=row, minlength=kinds) for row in outcomes])
    told = acts.best(sums / np.maximum(given, 1))
    return plain, np.where(given > 0, told, plain)


def _mean(gained: np.ndarray) -> Worth:
    return Worth(float(gained.mean()), float(gained.std() / math.sqrt(len(gained))))
