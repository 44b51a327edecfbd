"""An O told from a 0 by how broad it is beside the figures of its line.

Many typefaces draw the two alike but for their breadth: in print of even pitch both are as broad
as a figure, elsewhere the 0 still is and the O is broader. Source: common practice of type design;
the figures were measured on the tuning families' typefaces.
"""

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from units.plates.domain.sight.engine import Print
from units.plates.domain.sight.standing import Standing
from units.plates.domain.sight.twins import is_round, weighed

FIGURES = set("23456789")  # a 1 is narrow where the pitch is not even
LETTERS = set("BCDGHNPRU")  # broader than a figure where the pitch is not even, and only there
FEWEST_FIGURES = 3
LEAST_SPREAD = 0.05  # of a figure's breadth
LETTERS_BROAD = 1.1
# An O in print of uneven pitch: in figures' breadths, or in those of the line's broad letters.
BROAD, BROAD_SPREAD = 1.25, 0.12
BESIDE_LETTERS, BESIDE_SPREAD = 1.07, 0.09
EVEN, EVEN_IF_LETTERS_BROAD = 0.4, 0.05  # chance of even pitch
STRAY = 0.02  # a breadth that is measured wrongly, per figure's breadth


def tell_by_breadth(seen: Standing, print_: Print) -> Print:
    """The same print with every 0 and O that nothing settled yet weighed again by its breadth,
    where that can be measured."""
    breadths = seen.breadths
    figures = _of(print_, breadths, FIGURES)
    if len(figures) < FEWEST_FIGURES:
        return print_
    figure = float(np.median(figures))
    spread = max(LEAST_SPREAD, 1.5 * float(np.median(np.abs(figures / figure - 1))))
    letters = _of(print_, breadths, LETTERS)
    letter = float(np.median(letters)) / figure if len(letters) else 0.0
    glyphs = tuple(
        weighed(glyph, speaks_for_o(breadth / figure, spread, letter))
        if is_round(glyph) and not glyph.settled and math.isfinite(breadth)
        else glyph
        for glyph, breadth in zip(print_.glyphs, breadths, strict=True)
    )
    return replace(print_, glyphs=glyphs)


def speaks_for_o(breadth: float, spread: float, letter: float = 0.0) -> float:
    """Logarithm of how much likelier this breadth is for an O than for a 0.

    All in breadths of a figure: ``spread`` is what figures vary by, ``letter`` the breadth of the
    line's broad letters, 0 where it has none.
    """
    as_figure = _bell(breadth, 1.0, spread)
    even, broad = EVEN, _bell(breadth, BROAD, BROAD_SPREAD)
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
