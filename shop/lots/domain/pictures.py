"""Where the shapes of the pictures of a bid stand, from its kept figures, for screen and paper.

Measures of a picture are those of its view box, from its upper left corner.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from shop.lots.domain.inputs import FATES

WIDTH, HEIGHT = 400.0, 200.0
LEFT, RIGHT, TOP, FOOT = 12.0, 388.0, 12.0, 172.0
ROW = 26.0  # of a picture whose rows are machines or assumptions
NAMES = 22.0  # from the top of a picture to its first row
MOST_ROWS = 12
TICKS = 5


@dataclass(frozen=True)
class Bar:
    """A rectangle; ``share`` 0 to 1 says how dark, ``value`` what it stands for."""

    x: float
    y: float
    width: float
    height: float
    share: float = 1.0
    value: float = 0.0


@dataclass(frozen=True)
class Mark:
    """A line across the picture at ``at``, and the figure that it stands for."""

    at: float
    value: float
    name: str = ""


@dataclass(frozen=True)
class Row:
    """One row of bars under a name, standing at ``y``."""

    y: float
    name: str
    bars: tuple[Bar, ...]
    count: int = 1
    low: float = 0.0
    high: float = 0.0


@dataclass(frozen=True)
class Picture:
    """Bars, a line of points, marks upright (``marks``) and level, and ticks along the foot."""

    bars: tuple[Bar, ...] = ()
    points: tuple[tuple[float, float], ...] = ()
    marks: tuple[Mark, ...] = ()
    levels: tuple[Mark, ...] = ()
    ticks: tuple[Mark, ...] = ()
    rows: tuple[Row, ...] = ()
    height: float = HEIGHT

    @property
    def line(self) -> str:
        return " ".join(f"{x:.1f},{y:.1f}" for x, y in self.points)


@dataclass(frozen=True)
class _Scale:
    """From money to a place between ``LEFT`` and ``RIGHT``."""

    low: float
    high: float

    def at(self, value: float) -> float:
        wide = self.high - self.low or 1.0
        inside = min(max(value, self.low), self.high)
        return round(LEFT + (RIGHT - LEFT) * (inside - self.low) / wide, 1)

    def ticks(self) -> tuple[Mark, ...]:
        """Round figures along the scale."""
        step = nice((self.high - self.low) / TICKS)
        first = math.ceil(self.low / step)
        marks = range(first, math.floor(self.high / step) + 1)
        return tuple(Mark(self.at(one * step), one * step) for one in marks)


def nice(step: float) -> float:
    """The next 1, 2 or 5 times a power of ten, and at least a whole unit of money."""
    power = 10 ** math.floor(math.log10(max(step, 1.0)))
    return next(times * power for times in (1, 2, 5, 10) if times * power >= step - 1e-9)


def profit_picture(figures: Mapping) -> Picture:
    """How often which profit comes, with the lines of no profit and of the margin."""
    edges, shares = figures["profits"]["x"], figures["profits"]["y"]
    lines = {"nothing": 0.0, "margin": figures["wanted"]}
    scale = _Scale(min(edges[0], *lines.values()), max(edges[-1], *lines.values()))
    most = max(shares) or 1.0
    bars = []
    for (low, high), share in zip(pairwise(edges), shares, strict=True):
        tall = (FOOT - TOP) * share / most
        x, upto = scale.at(low), scale.at(high)
        met = 1.0 if low >= figures["wanted"] else 0.35
        bars.append(Bar(x, round(FOOT - tall, 1), max(upto - x - 1, 0.5), round(tall, 1), met))
    marks = tuple(Mark(scale.at(value), value, name) for name, value in lines.items())
    return Picture(tuple(bars), marks=marks, ticks=scale.ticks())


def odds_picture(figures: Mapping, wanted: float, asked: float | None) -> Picture:
    """With which odds the margin is met at each price."""
    prices, met = figures["odds"]["x"], figures["odds"]["y"]
    scale = _Scale(prices[0], prices[-1])
    points = [(scale.at(x), _up(y)) for x, y in zip(prices, met, strict=True)]
    marks = [Mark(scale.at(figures["most_to_pay"]), figures["most_to_pay"], "most")]
    if asked is not None:
        marks.append(Mark(scale.at(asked), asked, "asked"))
    return Picture(
        points=tuple(points),
        marks=tuple(marks),
        levels=(Mark(_up(wanted), wanted, "wanted"),),
        ticks=scale.ticks(),
    )


def _up(share: float) -> float:
    return round(FOOT - (FOOT - TOP) * share, 1)


def tenths_picture(counts: Sequence[int]) -> Picture:
    """How many outcomes fell into each tenth of what was predicted, and the level at which all are
    as many."""
    each, most = (RIGHT - LEFT) / len(counts), max([1, *counts])
    level = sum(counts) / len(counts)
    bars = []
    for place, count in enumerate(counts):
        tall = (FOOT - TOP) * count / most
        bars.append(Bar(round(LEFT + place * each, 1), round(FOOT - tall, 1), round(each - 3, 1),
                        round(tall, 1), value=count))  # fmt: skip
    ticks = (Mark(round(LEFT + (place + 0.5) * each - 1.5, 1), place + 1)
             for place in range(len(counts)))  # fmt: skip
    levels = (Mark(round(FOOT - (FOOT - TOP) * level / most, 1), level, "level"),)
    return Picture(tuple(bars), levels=levels, ticks=tuple(ticks))


def machines_picture(figures: Mapping) -> Picture:
    """A row for each model, by worth: the shares of its ways, in the order of ``FATES``."""
    models = figures["machines"][:MOST_ROWS]
    rows = []
    for place, one in enumerate(models):
        y, x, bars = NAMES + 2 * ROW * place, LEFT, []
        for dark, fate in zip((1.0, 0.6, 0.3, 0.1), FATES, strict=True):
            wide = (RIGHT - LEFT) * one["fates"][fate]
            bars.append(Bar(round(x, 1), y, round(wide, 1), ROW - 8, dark, one["fates"][fate]))
            x += wide
        rows.append(Row(y, one["model"], tuple(bars), one["count"], one["worth"]))
    return Picture(rows=tuple(rows), height=2 * ROW * len(rows) + NAMES)


def drivers_picture(figures: Mapping) -> Picture:
    """A row for each assumption, the greatest swing first: the most to pay at both its bounds."""
    drivers = [one for one in figures["drivers"] if one["low"] != one["high"]][:MOST_ROWS]
    ends = [one[end] for one in drivers for end in ("low", "high")]
    base = figures["most_to_pay"]
    scale = _Scale(min([base, *ends]), max([base, *ends]))
    rows = []
    for place, one in enumerate(drivers):
        y = NAMES + 2 * ROW * place
        first, last = sorted((scale.at(one["low"]), scale.at(one["high"])))
        bar = Bar(first, y, max(round(last - first, 1), 1.0), ROW - 8)
        rows.append(Row(y, one["key"], (bar,), low=one["low"], high=one["high"]))
    marks = (Mark(scale.at(base), base, "most"),)
    return Picture(rows=tuple(rows), marks=marks, height=2 * ROW * len(rows) + NAMES)
