"""The normal distribution as tables, for sixteen-bit random numbers.

A component fails where a 16-bit uniform is below a threshold. The threshold of a latent value is
read from a table with ``RESOLUTION`` steps to a standard deviation. Rounding the value moves a
chance by at most ``phi(0) / (2 RESOLUTION)``, rounding the threshold by at most ``2**-17``:
together no more than ``2**-16`` for a value that never changes, far less for one that varies.
"""

import math
from functools import cache
from statistics import NormalDist

import numpy as np

RESOLUTION = 32768
EDGE = 4.5  # beyond it a chance is below 2**-17 and its threshold nothing, or all
STEPS = int(EDGE * RESOLUTION)
SIXTEEN_BITS = 65536


@cache
def chances() -> np.ndarray:
    """``Phi`` at ``-EDGE ... EDGE`` in ``RESOLUTION`` steps to one, float64."""
    erf = np.frompyfunc(math.erf, 1, 1)
    half = erf(np.arange(STEPS + 1) / (RESOLUTION * math.sqrt(2.0))).astype(float) / 2.0
    return np.concatenate([0.5 - half[:0:-1], 0.5 + half])


@cache
def thresholds() -> np.ndarray:
    """For each step of ``chances`` the 16-bit number below which a uniform one has that chance."""
    rounded = np.rint(chances() * SIXTEEN_BITS)
    return np.minimum(rounded, SIXTEEN_BITS - 1).astype(np.uint16)


@cache
def quantiles16() -> np.ndarray:
    """A standard normal value for each 16-bit uniform, float32, with variance one."""
    inverse = NormalDist().inv_cdf
    upper = [inverse((at + 0.5) / SIXTEEN_BITS) for at in range(SIXTEEN_BITS // 2, SIXTEEN_BITS)]
    values = np.concatenate([-np.array(upper[::-1]), np.array(upper)])
    return (values / values.std()).astype(np.float32)


@cache
def _steps() -> np.ndarray:
    return np.arange(-STEPS, STEPS + 1) / RESOLUTION


def chance_of(value: np.ndarray | float) -> np.ndarray:
    """``Phi``, by straight lines between the steps of the table."""
    return np.interp(value, _steps(), chances())


def near_chance_of(value: np.ndarray) -> np.ndarray:
    """``Phi`` at the nearest step of the table: quicker, and within ``phi(0) / (2 RESOLUTION)``."""
    return np.take(chances(), np.rint(value * RESOLUTION).astype(np.intp) + STEPS, mode="clip")


def value_of(chance: np.ndarray | float) -> np.ndarray:
    """The inverse of ``Phi``, held within ``EDGE`` on both sides."""
    return np.interp(chance, chances(), _steps())


def mean_one(sd: float, normal: np.ndarray) -> np.ndarray:
    """Lognormal factors whose mean is one: ``sd`` is that of the logarithm."""
    return np.exp(np.float32(sd) * normal - np.float32(sd * sd / 2.0))
