"""A letter told from the figure it looks like by its symmetry.

Turned half about, an S or a Z is itself, a 5, a 2 or a 7 is not; in a mirror the head of an I is
itself, that of a 1 has its flag on one side only. So nearly all typefaces draw them; source:
common practice of type design. What parts the pairs was fitted on glyphs of the tuning families,
and looked at in typefaces of neither set (trials that are not kept).
"""

from collections.abc import Callable
from dataclasses import dataclass

import cv2
import numpy as np

from units.plates.domain.sight.engine import Glyph, Print
from units.plates.domain.sight.standing import Ink, Standing
from units.plates.domain.sight.twins import weights_of

ASIDE, ABOVE = 0.2, 2  # what is looked at around a character: of its breadth, and pixels
HEAD = 0.45  # of its height
# Where the upper stroke of an S ends, in shares of its height and breadth; how far the ink there
# counts beside its symmetry, and how much there is between an S and a 5.
END_ROWS, END_LEFT, END, USUAL_END = (0.18, 0.33), 0.75, 0.23, 0.2
SHIFTED = 0.12  # of a character's breadth: how far its middle may lie from its rectangle's
FLAT = 20  # levels of brightness between which there is no print
MOST = 4.5  # a natural logarithm: now and then dirt or a neighbour spoils the shape
SMALLEST = 4  # pixels of breadth


@dataclass(frozen=True)
class Shape:
    """A character as ink from 0 to 1: its rectangle, and that with a little around it."""

    inside: np.ndarray
    around: np.ndarray


def half_turned(shape: Shape) -> float:
    """How far a character is itself when turned half about, from -1 to 1."""
    turned = shape.around[::-1, ::-1]
    return max(_alike(np.roll(shape.around, by, 0), turned) for by in (-1, 0, 1))


def curled(shape: Shape) -> float:
    """How far a character is itself when turned half about, and more for the end of a stroke under
    the right of its head: an S has one, a 5 has paper there."""
    tall, wide = shape.inside.shape
    rows = slice(*(round(share * tall) for share in END_ROWS))
    end = shape.inside[rows, round(END_LEFT * wide) :].mean()
    return half_turned(shape) + END * (float(end) - USUAL_END)


def head_mirrored(shape: Shape) -> float:
    """How far the upper part of a character is itself in an upright mirror, from -1 to 1."""
    head = shape.around[: round(HEAD * shape.around.shape[0])]
    return _alike(head, head[:, ::-1])


@dataclass(frozen=True)
class Pair:
    """A letter and the figures it looks like: from ``middle`` on its symmetry speaks for the
    letter, by ``slope``."""

    letter: str
    figures: str
    symmetry: Callable[[Shape], float]
    middle: float
    slope: float

    def for_letter(self, shape: Shape) -> float:
        told = self.slope * (self.symmetry(shape) - self.middle)
        return max(-MOST, min(MOST, told))

    def figure_of(self, glyph: Glyph) -> str:
        """The figure that this character is, if it is not the letter."""
        weights = weights_of(glyph)
        return max(self.figures, key=lambda figure: weights.get(figure, 0.0))


STROKE = Pair("I", "1", head_mirrored, 0.87, 45.0)
PAIRS = (
    STROKE,
    Pair("S", "5", curled, 0.88, 35.0),
    Pair("Z", "27", half_turned, 0.78, 30.0),
)
OF = {char: pair for pair in PAIRS for char in pair.letter + pair.figures}


def symmetries_for_letter(seen: Standing, print_: Print) -> list[float]:
    """For each character the logarithm of how much likelier its symmetry is of the letter of its
    pair than of the figure; 0 where it is of none, or cannot be measured."""
    told = [
        _for_letter(seen, ink, glyph) for glyph, ink in zip(print_.glyphs, seen.inks, strict=True)
    ]
    return [
        0.0 if _plain(print_, told) and OF.get(glyph.char) is STROKE else one
        for glyph, one in zip(print_.glyphs, told, strict=True)
    ]


def _plain(print_: Print, told: list[float]) -> bool:
    """Whether every 1 and I of a line seems an I: where there are several, the typeface draws a 1
    as a plain stroke, perhaps."""
    strokes = [
        one for glyph, one in zip(print_.glyphs, told, strict=True) if OF.get(glyph.char) is STROKE
    ]
    return len(strokes) > 1 and min(strokes) > 0


def _for_letter(seen: Standing, ink: Ink | None, glyph: Glyph) -> float:
    if ink is None or glyph.char not in OF or ink.wide < SMALLEST:
        return 0.0
    shape = _shape(seen, ink)
    return 0.0 if shape is None else OF[glyph.char].for_letter(shape)


def _shape(seen: Standing, ink: Ink) -> Shape | None:
    aside = max(2, round(ASIDE * ink.wide))
    grey = cv2.copyMakeBorder(seen.grey, ABOVE, ABOVE, aside, aside, cv2.BORDER_REPLICATE)
    part = grey[ink.top : ink.top + ink.tall + 2 * ABOVE, ink.left :][:, : ink.wide + 2 * aside]
    low, high = np.percentile(part, (5, 95))
    if high - low < FLAT:
        return None
    level = np.clip((part.astype(float) - low) / (high - low), 0, 1)
    around = 1 - level if seen.dark else level
    return Shape(around[ABOVE:-ABOVE, aside:-aside], around)


def _alike(one: np.ndarray, two: np.ndarray) -> float:
    """The correlation of two pictures of one size, at the best of a few shifts aside."""
    most, wide = max(1, round(SHIFTED * one.shape[1])), one.shape[1]
    return max(
        _correlation(
            one[:, max(0, by) : wide + min(0, by)], two[:, max(0, -by) : wide + min(0, -by)]
        )
        for by in range(-most, most + 1)
    )


def _correlation(one: np.ndarray, two: np.ndarray) -> float:
    one, two = one - one.mean(), two - two.mean()
    return float((one * two).sum() / np.sqrt((one**2).sum() * (two**2).sum() + 1e-9))
