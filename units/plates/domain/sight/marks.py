"""A 0 told by the stroke or dot inside it.

Typefaces of even pitch mostly mark their zeros so; then an O of the same line is the one that is
hollow. Source: common practice of type design; the figures were measured on 16 typefaces: of those
that mark the 0, 95 in 100 zeros had a mark of 0.31 or more, and 95 in 100 letters O of all
typefaces one of 0.12 or less.
"""

from dataclasses import replace

import numpy as np

from units.plates.domain.sight.engine import Print
from units.plates.domain.sight.standing import Ink, Standing
from units.plates.domain.sight.twins import is_round, weighed

MARKED, HOLLOW = 0.3, 0.12  # of the way from paper to ink
STRIP = 0.1  # half of the strip that is looked at, in breadths of the character
MIDDLE, ABOVE, BELOW = (0.44, 0.56), (0.24, 0.32), (0.68, 0.76)  # of its height
FLAT = 20  # levels of brightness between which there is no print
SURE = 5.0  # natural logarithm


def tell_by_marks(seen: Standing, print_: Print) -> Print:
    """The same print, each 0 or O weighed by the mark inside, if any of its line has one."""
    marks = [
        mark_inside(seen, ink) if ink and is_round(glyph) else None
        for glyph, ink in zip(print_.glyphs, seen.inks, strict=True)
    ]
    if not any(mark is not None and mark >= MARKED for mark in marks):
        return print_
    glyphs = (
        glyph if mark is None else weighed(glyph, _for_o(mark))
        for glyph, mark in zip(print_.glyphs, marks, strict=True)
    )
    return replace(print_, glyphs=tuple(glyphs))


def _for_o(mark: float) -> float:
    return -SURE if mark >= MARKED else SURE if mark <= HOLLOW else 0.0


def mark_inside(seen: Standing, ink: Ink) -> float:
    """How much more ink there is in the middle of a character than above and below that, between
    its upper and lower strokes: 0 in a hollow one, 1 in one with a full stroke or dot."""
    part = seen.grey[ink.top : ink.top + ink.tall, ink.left : ink.left + ink.wide].astype(float)
    low, high = np.percentile(part, (8, 92))
    if high - low < FLAT:
        return 0.0
    inked = (high - part if seen.dark else part - low) / (high - low)
    half, centre = max(1, round(STRIP * ink.wide)), ink.wide // 2
    strip = inked[:, max(0, centre - half) : centre + half + 1].mean(axis=1)
    middle, above, below = (
        strip[int(start * ink.tall) : int(end * ink.tall) + 1].mean()
        for start, end in (MIDDLE, ABOVE, BELOW)
    )
    return float(middle - (above + below) / 2)
