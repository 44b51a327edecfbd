"""Where the points of a small chart stand."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from math import ceil, floor, log10

WIDTH, HEIGHT = 400, 200  # narrow, so that its words can be read on a telephone
LEFT, RIGHT, TOP, BOTTOM = 56, 14, 14, 32
LEAST = 1e-6  # no kept reading is finer
LINES = 4  # level lines at most, besides the lowest


@dataclass(frozen=True)
class Spot:
    """One reading: where it stands, and how far up and down its uncertainty reaches."""

    x: float
    y: float
    top: float
    foot: float


@dataclass(frozen=True)
class Level:
    y: float
    value: float


@dataclass(frozen=True)
class Chart:
    spots: tuple[Spot, ...]
    levels: tuple[Level, ...]

    @property
    def line(self) -> str:
        """The points of an SVG polyline."""
        return " ".join(f"{spot.x},{spot.y}" for spot in self.spots)


def nice_step(span: float) -> float:
    """The least of 1, 2, 5 times a power of ten that divides ``span`` into no more than LINES."""
    power = 10.0 ** floor(log10(span / LINES))
    return next(step * power for step in (1, 2, 5, 10) if step * power * LINES >= span * (1 - 1e-9))


def draw(rows: Sequence[tuple[datetime, float, float]]) -> Chart:
    """``rows`` are (when, value, uncertainty), oldest first, at least one. The levels begin at
    zero, so that a small change never looks like a large one."""
    most = max(value + doubt for _, value, doubt in rows)
    least = min(0.0, *(value - doubt for _, value, doubt in rows))
    step = nice_step(max(most - least, LEAST))
    low, high = floor(least / step), max(ceil(most / step - 1e-9), 1)
    first, last = rows[0][0], rows[-1][0]
    whole = (last - first).total_seconds()

    def across(when) -> float:
        share = (when - first).total_seconds() / whole if whole else 0.5
        return round(LEFT + share * (WIDTH - LEFT - RIGHT), 1)

    def up(value) -> float:
        share = (value / step - low) / (high - low)
        return round(HEIGHT - BOTTOM - share * (HEIGHT - TOP - BOTTOM), 1)

    spots = [
        Spot(across(when), up(value), up(value + doubt), up(value - doubt))
        for when, value, doubt in rows
    ]
    levels = [Level(up(count * step), count * step) for count in range(low, high + 1)]
    return Chart(tuple(spots), tuple(levels))
