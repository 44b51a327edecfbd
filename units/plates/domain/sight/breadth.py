"""An O told from a 0 by how broad it is beside the figures of its line.

The reading network sees one character at a time, and many typefaces draw the two alike but for
their breadth: in print of even pitch both are as broad as a figure, elsewhere the 0 still is and
the O is broader. Source: common practice of type design; the figures were measured on
the tuning families' typefaces.
"""

import math
from collections.abc import Sequence
from dataclasses import replace

import cv2
import numpy as np

from units.plates.domain.sight.engine import Glyph, Print

TALL = 72  # pixels of a line while it is measured
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
EYE = 0.5  # how far the network's own word counts beside a measure
LEAST_WEIGHT = 2e-3
TELLS = 2.0  # natural logarithm from which a breadth alone settles which of the two it is
TWINS = {"0", "O"}


def tell_rounds(cut: np.ndarray, print_: Print) -> Print:
    """The same print with every 0 and O weighed again by its breadth, where that can be measured.

    ``cut`` is the upright line as it was read (BGR).
    """
    if not any(_upper(glyph) in TWINS for glyph in print_.glyphs):
        return print_
    breadths = _breadths(cut, print_)
    figures = _of(print_, breadths, FIGURES)
    if len(figures) < FEWEST_FIGURES:
        return print_
    figure = float(np.median(figures))
    spread = max(LEAST_SPREAD, 1.5 * float(np.median(np.abs(figures / figure - 1))))
    letters = _of(print_, breadths, LETTERS)
    letter = float(np.median(letters)) / figure if len(letters) else 0.0
    glyphs = tuple(
        _weighed(glyph, speaks_for_o(breadth / figure, spread, letter))
        if _upper(glyph) in TWINS and math.isfinite(breadth)
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


def _weighed(glyph: Glyph, for_o: float) -> Glyph:
    """A measure that agrees with the network, or tells little against it, leaves its weights."""
    for_read = for_o if _upper(glyph) == "O" else -for_o
    if for_read > -TELLS / 2:
        return replace(glyph, settled=for_read >= TELLS)
    weights = dict(glyph.others) | {glyph.char: glyph.weight}
    letter = "o" if glyph.char == "o" else "O"
    zero, o = (max(weights.get(char, 0.0), LEAST_WEIGHT) for char in ("0", letter))
    chance = 1 / (1 + math.exp(EYE * math.log(zero / o) - for_o))
    both = zero + o
    weights |= {"0": both * (1 - chance), letter: both * chance}
    char = letter if chance > 0.5 else "0"
    others = tuple((other, weight) for other, weight in weights.items() if other != char)
    settled = char != glyph.char and for_read <= -TELLS
    return replace(glyph, char=char, weight=weights[char], others=others, settled=settled)


def _upper(glyph: Glyph) -> str:
    return glyph.char.upper()


def _of(print_: Print, breadths: Sequence[float], chars: set[str]) -> np.ndarray:
    found = [
        breadth
        for glyph, breadth in zip(print_.glyphs, breadths, strict=True)
        if glyph.char in chars and math.isfinite(breadth)
    ]
    return np.array(found)


def _breadths(cut: np.ndarray, print_: Print) -> list[float]:
    """The breadth of every character in pixels; NaN where it does not stand by itself."""
    grey = _grey(cut)
    dark, light = (
        _breadths_in(cv2.threshold(grey, 0, 1, way | cv2.THRESH_OTSU)[1], print_)
        for way in (cv2.THRESH_BINARY_INV, cv2.THRESH_BINARY)
    )
    return max(dark, light, key=lambda found: int(np.isfinite(found).sum()))


def _grey(cut: np.ndarray) -> np.ndarray:
    height, width = cut.shape[:2]
    grey = cv2.cvtColor(cut, cv2.COLOR_BGR2GRAY)
    way = cv2.INTER_CUBIC if height < TALL else cv2.INTER_AREA
    size = (max(8, round(width * TALL / max(height, 1))), TALL)
    return cv2.GaussianBlur(cv2.resize(grey, size, interpolation=way), (3, 3), 0)


def _breadths_in(ink: np.ndarray, print_: Print) -> list[float]:
    _count, _labels, stats, _middles = cv2.connectedComponentsWithStats(ink, connectivity=8)
    blobs = [
        (left, wide)
        for left, _top, wide, tall, _area in stats[1:]
        if 0.35 * TALL <= tall < 0.98 * TALL and 2 < wide < 1.3 * TALL
    ]
    found = [math.nan] * len(print_.glyphs)
    owners: dict[int, list[int]] = {}
    for at, (glyph, place) in enumerate(zip(print_.glyphs, print_.places, strict=True)):
        middle = place * ink.shape[1]
        near = [
            (abs(left + wide / 2 - middle), blob)
            for blob, (left, wide) in enumerate(blobs)
            if left - 4 <= middle <= left + wide + 4
        ]
        if near and glyph.char.isalnum():
            owners.setdefault(min(near)[1], []).append(at)
    for blob, chars in owners.items():
        if len(chars) == 1:  # what several characters share is no character
            found[chars[0]] = float(blobs[blob][1])
    return found
