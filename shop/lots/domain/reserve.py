"""What is believed of the least price that a seller would take."""

import math
from dataclasses import dataclass

import numpy as np

from shop.lots.domain.normal import chance_of


@dataclass(frozen=True)
class LogNormalReserve:
    """Around a ``median``, with ``sd`` that of the logarithm."""

    median: float
    sd: float

    def __post_init__(self):
        if self.median <= 0 or self.sd <= 0:
            raise ValueError("the median and the spread of a reserve are above nothing")

    def accepts(self, offers: np.ndarray) -> np.ndarray:
        """The chance that each of some offers is taken."""
        offers = np.maximum(np.asarray(offers, float), 1e-12)
        return chance_of((np.log(offers) - math.log(self.median)) / self.sd)

    @property
    def highest(self) -> float:
        """An offer that is all but surely taken."""
        return self.median * math.exp(4 * self.sd)


@dataclass(frozen=True)
class TriangularReserve:
    """Between ``low`` and ``high``, most likely ``mode``."""

    low: float
    mode: float
    high: float

    def __post_init__(self):
        if not self.low <= self.mode <= self.high or self.low == self.high:
            raise ValueError("the most likely reserve stands between the lowest and the highest")

    def accepts(self, offers: np.ndarray) -> np.ndarray:
        """The chance that each of some offers is taken."""
        offers = np.clip(np.asarray(offers, float), self.low, self.high)
        wide = self.high - self.low
        rising = (offers - self.low) ** 2 / (wide * max(self.mode - self.low, 1e-12))
        falling = 1 - (self.high - offers) ** 2 / (wide * max(self.high - self.mode, 1e-12))
        return np.where(offers < self.mode, rising, falling)

    @property
    def highest(self) -> float:
        return self.high


Reserve = LogNormalReserve | TriangularReserve
