"""What closed jobs and bought lots teach: conjugate updates of odds and prices, and of dependence.

Machines of one lot are alike, so ten of them tell less than ten from ten places. Their outcomes are
counted by the design effect of their intraclass correlation. What the components of one lot say of
each other beyond that is left to the dependence.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from shop.lots.domain.inputs import Odds, Price
from shop.lots.domain.normal import near_chance_of, value_of

FAR = 4.5  # standard deviations over which a factor is integrated
LOT_STEP, MACHINE_STEP = 0.25, 0.75
LEAST = 1e-9  # a chance below it is taken for it


def alike(count: int, chance: float, lot_weight: float) -> float:
    """What one of ``count`` outcomes from one lot counts for, against one that stands alone.

    ``1 / (1 + (count - 1) rho)``, with ``rho`` the correlation of two outcomes to the first order
    in that of their latent values, ``lot_weight ** 2 phi(z)^2 / (p (1 - p))``.
    """
    chance = min(max(chance, LEAST), 1 - LEAST)
    latent = float(value_of(chance))
    density = math.exp(-latent * latent / 2) / math.sqrt(2 * math.pi)
    rho = min(1.0, lot_weight**2 * density**2 / (chance * (1 - chance)))
    return 1 / (1 + (count - 1) * rho)


def learn_odds(odds: Odds, failed: int, sound: int, lot_weight: float) -> Odds:
    """Odds after the outcomes of one lot."""
    chance = odds.alpha / (odds.alpha + odds.beta)
    counts = alike(failed + sound, chance, lot_weight) if failed + sound else 0.0
    return replace(odds, alpha=odds.alpha + counts * failed, beta=odds.beta + counts * sound)


def learn_price(price: Price, ratios: Sequence[float], market_sd: float) -> Price:
    """A price after one lot's sales of a model: each as times of the mean that was expected.

    Normal on the logarithm: the level is common to all sales, the market of that time to those of
    one lot, and each has its own luck. The spread of market and luck is taken as known.
    """
    if not ratios or not price.level_sd:
        return price
    prior = price.level_sd**2
    noise = market_sd**2 + price.own_sd**2 / len(ratios)
    # A mean-one factor has a logarithm of mean -sd^2 / 2.
    usual = -(prior + market_sd**2 + price.own_sd**2) / 2
    off = sum(math.log(ratio) for ratio in ratios) / len(ratios) - usual
    weight = prior / (prior + noise)
    level = -prior / 2 + weight * off
    left = prior * (1 - weight)
    return replace(price, mean=price.mean * math.exp(level + left / 2), level_sd=math.sqrt(left))


@dataclass(frozen=True)
class Outcome:
    """One machine that was looked at: the chance that each component had, and which failed."""

    chances: np.ndarray
    failed: np.ndarray


@dataclass(frozen=True)
class Weights:
    """What is believed of the two weights of dependence: a grid of pairs and their logarithms."""

    pairs: tuple[tuple[float, float], ...]
    logs: tuple[float, ...]

    @property
    def shares(self) -> np.ndarray:
        """How likely each pair is; they add up to one."""
        raised = np.exp(np.array(self.logs) - max(self.logs))
        return raised / raised.sum()

    @property
    def means(self) -> tuple[float, float]:
        a, b = self.shares @ np.array(self.pairs)
        return float(a), float(b)

    def some(self, count: int) -> tuple[tuple[float, float], ...]:
        """So many pairs of equal weight that stand for the whole belief."""
        wanted = (np.arange(count) + 0.5) / count
        places = np.searchsorted(np.cumsum(self.shares), wanted)
        return tuple(self.pairs[min(at, len(self.pairs) - 1)] for at in places)


def stated_weights(
    lot: tuple[float, float], machine: tuple[float, float], steps: int = 6
) -> Weights:
    """A belief before any lot: mean and standard deviation of each weight, independent normals."""
    grid = np.linspace(0.05, 0.65, steps)
    pairs = tuple((float(a), float(b)) for a in grid for b in grid)
    logs = tuple(
        -(((a - lot[0]) / lot[1]) ** 2 + ((b - machine[0]) / machine[1]) ** 2) / 2 for a, b in pairs
    )
    return Weights(pairs, logs)


def learn_weights(weights: Weights, lot: Sequence[Outcome]) -> Weights:
    """The belief after one lot: each pair's likelihood, both factors integrated out."""
    told = lot_likelihoods(lot, np.array(weights.pairs))
    return replace(weights, logs=tuple((np.array(weights.logs) + told).tolist()))


@cache
def _factor(step: float) -> tuple[np.ndarray, np.ndarray]:
    """Values of a standard normal factor so far apart, and their weights (trapezoid rule)."""
    reach = int(FAR / step)
    nodes = step * np.arange(-reach, reach + 1)
    weights = np.exp(-nodes * nodes / 2)
    return nodes, weights / weights.sum()


def lot_likelihoods(lot: Sequence[Outcome], pairs: np.ndarray) -> np.ndarray:
    """Logarithm of the chance of one lot's outcomes under each pair of weights (pairs x 2).

    The lot's factor is integrated out and, within it, each machine's. Many machines leave little
    doubt of their lot's factor, so its steps are the finer ones.
    """
    lots, lot_shares = _factor(LOT_STEP)
    machines, machine_shares = _factor(MACHINE_STEP)
    a, b = pairs.T[:, :, None, None]
    factors = a * lots[:, None] + b * machines  # pairs x lot x machine
    rest = np.sqrt(1 - a * a - b * b)
    total = np.zeros((len(pairs), len(lots)))
    for one in lot:
        latent = (value_of(one.chances)[:, None, None, None] - factors) / rest
        fails = near_chance_of(latent)
        seen = np.where(one.failed[:, None, None, None], fails, 1 - fails).prod(axis=0)
        total += np.log(seen @ machine_shares)
    top = total.max(axis=1, keepdims=True)
    return top[:, 0] + np.log(np.exp(total - top) @ lot_shares)
