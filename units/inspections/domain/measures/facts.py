"""The one reader of what the tools assume (``fixtures/reference/measures.toml``)."""

import tomllib
from dataclasses import dataclass
from functools import cache
from math import sqrt
from pathlib import Path

from uncertainties import ufloat

REFERENCE = Path(__file__).resolve().parents[4] / "fixtures" / "reference"
EVENLY = sqrt(3)  # half-width of an even spread over its standard deviation, GUM 4.3.7


@dataclass(frozen=True)
class Assumption:
    """A figure that is not measured: ``value`` in SI, ``spread`` its standard uncertainty.

    ``grade`` is V (read at the source), C (computed from such) or M (from memory, unverified).
    """

    name: str
    value: float
    spread: float
    grade: str
    source: str

    @property
    def number(self):
        return ufloat(self.value, self.spread)

    def near(self, value: float):
        """Another value of the same assumption, as uncertain in proportion."""
        return ufloat(value, value * self.spread / self.value)


@cache
def facts() -> dict:
    return tomllib.loads((REFERENCE / "measures.toml").read_text(encoding="utf-8"))


@cache
def assumption(key: str) -> Assumption:
    return Assumption(**facts()["assumptions"][key])


def limit(key: str) -> float:
    """An assumption that is a limit: a bare number."""
    return assumption(key).value


class Instruments:
    """The instruments of one measurement, each used for all of its readings.

    What an instrument is off by as a share is the same at every reading of one measurement, so it
    drops out of their ratio; its step is new each time. Both are half-widths of even spreads
    (GUM 4.3.7).
    """

    def __init__(self):
        self._gains = {}

    def read(self, instrument: str, value: float):
        """A reading (SI) with its standard uncertainty; a bare number where the instrument leaves
        none, as when turns are counted."""
        row = facts()["instruments"][instrument]
        if row["share"] and instrument not in self._gains:
            self._gains[instrument] = ufloat(1.0, row["share"] / EVENLY)
        told = ufloat(value, row["step"] / EVENLY) if row["step"] else value
        return told * self._gains.get(instrument, 1.0)
