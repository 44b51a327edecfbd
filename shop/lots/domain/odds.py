"""What is believed of a component's odds, as a few values of equal weight."""

import math
from functools import lru_cache

import numpy as np

from shop.lots.domain.normal import value_of

STRATA = 256  # a power of two, so that a few bits of a random number choose one
GRID = 1024
_DEEP = 18.0  # how far the logarithm of the density falls at the ends of the grid


@lru_cache(maxsize=16384)
def strata(alpha: float, beta: float) -> np.ndarray:
    """``STRATA`` chances of equal weight that stand for Beta(alpha, beta), in rising order.

    Each is the mean of its share of the distribution, so the mean of all is ``alpha / (alpha +
    beta)``; what is lost of the variance is that within a stratum. Integrated over the logit by the
    trapezoid rule. Raises ``ValueError`` where a parameter is not above nothing.
    """
    if alpha <= 0 or beta <= 0:
        raise ValueError("the parameters of a beta distribution are above nothing")
    middle = math.log(alpha / beta)
    wide = math.sqrt(2 * _DEEP * (1 / alpha + 1 / beta))
    logit = np.linspace(middle - wide - _DEEP / alpha, middle + wide + _DEEP / beta, GRID)
    log_density = -alpha * np.logaddexp(0, -logit) - beta * np.logaddexp(0, logit)
    density = np.exp(log_density - log_density.max())
    chance = np.exp(-np.logaddexp(0, -logit))
    below = _running(density)
    weighted = _running(density * chance)
    levels = np.linspace(0, below[-1], STRATA + 1)
    return np.diff(np.interp(levels, below, weighted)) * (STRATA / below[-1])


@lru_cache(maxsize=16384)
def latent_strata(alpha: float, beta: float) -> np.ndarray:
    """The strata as values of the latent normal below which a component fails, float32."""
    return value_of(strata(alpha, beta)).astype(np.float32)


def _running(heights: np.ndarray) -> np.ndarray:
    return np.concatenate([[0.0], np.cumsum((heights[1:] + heights[:-1]) / 2)])
