"""Where each character of a line that was read stands, as a stretch of ink by itself."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import cv2
import numpy as np

from units.plates.domain.sight.engine import Print

TALL = 72  # pixels of a line while it is measured


@dataclass(frozen=True)
class Ink:
    """The upright rectangle of one character, in pixels of the line ``TALL`` pixels high."""

    left: int
    top: int
    wide: int
    tall: int


@dataclass(frozen=True)
class Standing:
    """A line's brightness, whether its print is dark, and the ink of each character in its order,
    None where that does not stand by itself."""

    grey: np.ndarray
    dark: bool
    inks: tuple[Ink | None, ...]

    @property
    def breadths(self) -> list[float]:
        return [float(ink.wide) if ink else math.nan for ink in self.inks]


def standing(cut: np.ndarray, print_: Print) -> Standing:
    """``cut`` is the upright line as it was read (BGR)."""
    grey = _grey(cut)
    return max(
        (Standing(grey, dark, _inks(grey, dark, print_)) for dark in (True, False)),
        key=lambda one: sum(ink is not None for ink in one.inks),
    )


def _grey(cut: np.ndarray) -> np.ndarray:
    height, width = cut.shape[:2]
    grey = cv2.cvtColor(cut, cv2.COLOR_BGR2GRAY)
    way = cv2.INTER_CUBIC if height < TALL else cv2.INTER_AREA
    size = (max(8, round(width * TALL / max(height, 1))), TALL)
    return cv2.GaussianBlur(cv2.resize(grey, size, interpolation=way), (3, 3), 0)


def _inks(grey: np.ndarray, dark: bool, print_: Print) -> tuple[Ink | None, ...]:
    way = cv2.THRESH_BINARY_INV if dark else cv2.THRESH_BINARY
    ink = cv2.threshold(grey, 0, 1, way | cv2.THRESH_OTSU)[1]
    _count, _labels, stats, _middles = cv2.connectedComponentsWithStats(ink, connectivity=8)
    blobs = [
        Ink(*map(int, (left, top, wide, tall)))
        for left, top, wide, tall, _area in stats[1:]
        if 0.35 * TALL <= tall < 0.98 * TALL and 2 < wide < 1.3 * TALL
    ]
    return _owned(blobs, print_, ink.shape[1])


def _owned(blobs: Sequence[Ink], print_: Print, length: int) -> tuple[Ink | None, ...]:
    owners: dict[int, list[int]] = {}
    for at, (glyph, place) in enumerate(zip(print_.glyphs, print_.places, strict=True)):
        middle = place * length
        near = [
            (abs(blob.left + blob.wide / 2 - middle), index)
            for index, blob in enumerate(blobs)
            if blob.left - 4 <= middle <= blob.left + blob.wide + 4
        ]
        if near and glyph.char.isalnum():
            owners.setdefault(min(near)[1], []).append(at)
    # What several characters share is no character.
    own = {chars[0]: blobs[index] for index, chars in owners.items() if len(chars) == 1}
    return tuple(own.get(at) for at in range(len(print_.glyphs)))
