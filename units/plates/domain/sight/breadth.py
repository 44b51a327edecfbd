"""An O told from a 0 by how broad it is beside the figures of its line.

Many typefaces draw the two alike but for their breadth: in print of even pitch both are as broad
as a figure, elsewhere the 0 still is and the O is broader. Source: common practice of type design;
the figures were measured on the tuning families' typefaces.
"""

import math
from collections.abc import Sequence

import numpy as np

from units.plates.domain.sight.engine import Print
from units.plates.domain.sight.standing import Standing
from units.plates.domain.sight.twins import is_round

FIGURES = set("23456789")  # a 1 is narrow where the pitch is not even
LETTERS = set("BCDGHNPRU")  # broader than a figure where the pitch is not even, and only there
FEWEST_FIGURES = 3
LEAST_SPREAD = 0.05  # of a figure's breadth
LETTERS_BROAD = 1.1
# An O in print of uneven pitch: in figures' breadths, or in those of the line's broad letters.
BROAD, BROAD_SPREAD = 1.25, 0.12
BESIDE_LETTERS, BESIDE_SPREAD = 1.07, 0.09
EVEN, EVEN_IF_LETTERS_BROAD, EVEN_IF_MARKED = 0.4, 0.05, 0.9  # chance of even pitch
STRAY = 0.02  # a breadth that is measured wrongly, per figure's breadth


def breadths_for_o(seen: Standing, print_: Print, *, marked: bool) -> list[float]:
    """For each character the logarithm of how much likelier its breadth is of an O than of a 0; 0
    where that cannot be measured. ``marked``: zeros of the line have a mark inside, as in print of
    even pitch."""
    breadths = seen.breadths
    figures = _of(print_, breadths, FIGURES)
    if len(figures) < FEWEST_FIGURES:
        return [0.0] * len(breadths)
    figure = float(np.median(figures))
    spread = max(LEAST_SPREAD, 1.5 * float(np.median(np.abs(figures / figure - 1))))
    letters = _of(print_, breadths, LETTERS)
    letter = float(np.median(letters)) / figure if len(letters) else 0.0
    even = EVEN_IF_MARKED if marked else EVEN
    return [
        speaks_for_o(breadth / figure, spread, letter, even)
        if is_round(glyph) and math.isfinite(breadth)
        else 0.0
        for glyph, breadth in zip(print_.glyphs, breadths, strict=True)
    ]


def speaks_for_o(breadth: float, spread: float, letter: float = 0.0, even: float = EVEN) -> float:
    """Logarithm of how much likelier this breadth is for an O than for a 0.

    All in breadths of a figure: ``spread`` is what figures vary by, ``letter`` the breadth of the
    line's broad letters, 0 where it has none. ``even``: the chance of even pitch, from 0 to 1.
    """
    as_figure = _bell(breadth, 1.0, spread)
    broad = _bell(breadth, BROAD, BROAD_SPREAD)
    if letter >= LETTERS_BROAD:
        even, broad = EVEN_IF_LETTERS_BROAD, _bell(breadth, BESIDE_LETTERS * letter, BESIDE_SPREAD)
    as_o = even * as_figure + (1 - even) * broad
    return math.log((as_o + STRAY) / (as_figure + STRAY))


def _bell(value: float, middle: float, spread: float) -> float:
    return math.exp(-(((value - middle) / spread) ** 2) / 2) / (spread * math.sqrt(2 * math.pi))


def _of(print_: Print, breadths: Sequence[float], chars: set[str]) -> np.ndarray:
    found = [
        breadth
        for glyph, breadth in zip(print_.glyphs, breadths, strict=True)
        if glyph.char in chars and math.isfinite(breadth)
    ]
    return np.array(found)
