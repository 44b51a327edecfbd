"""Pieces of print that may be a value, and how they stand to the label that would name them."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from units.plates.domain.beside import (
    MARKS,
    Piece,
    beside,
    right_of,
    text_of,
    values_stand_above,
)
from units.plates.domain.labels import Label, find_labels
from units.plates.domain.likeness import Sign, signs_of
from units.plates.domain.proposal import Box
from units.plates.domain.sight.look import Line, View

INLINE, ALONE = "inline", "alone"
# What is left of a label in a language that has its number sign after it: "N.°:", "Nr.:", "NO:".
NUMBER_SIGN = re.compile(r"\s*(?:N\s?[.°ºo]{0,2}|NR\.?|NO\.?|#)\s*:", re.I)


@dataclass(frozen=True)
class Snippet:
    """A piece of one line: its text, its signs, its place; ``relation`` is to the label ``names``.

    ``view`` tells two looks at one piece of print apart. ``height`` is in pixels of the photo's
    upright copy, ``confidence`` is the mean weight of its characters.
    """

    text: str
    signs: tuple[Sign, ...]
    relation: str
    names: str
    view: int
    box: Box
    height: float
    confidence: float

    @property
    def key(self) -> str:
        return "".join(sign.char for sign in self.signs)


def snippets_of(view: View, number: int) -> list[Snippet]:
    """All values that labels name in one view, and every stretch of print that no label names."""
    lines = view.lines
    labels = [find_labels(line.text) for line in lines]
    pieces = [piece for at, line in enumerate(lines) for piece in _pieces(at, line, labels[at])]
    taken = {one for piece in pieces if (one := right_of(lines, pieces, piece))}
    above = values_stand_above(lines, pieces, taken)
    found = []
    for piece in pieces:
        if piece.label is None:
            found.append(_snippet(lines, piece, ALONE, "", number))
        elif text_of(lines, piece):
            found += _with_rest(lines, pieces, piece, INLINE, piece.label.names, number)
        else:
            for other, relation in beside(lines, pieces, piece, taken, above):
                found += _with_rest(lines, pieces, other, relation, piece.label.names, number)
    return [one for one in found if one.signs]


def _with_rest(lines, pieces, piece: Piece, relation: str, names: str, number: int):
    """A value, and the same with what follows closely: print is sometimes found in two parts."""
    value = _snippet(lines, piece, relation, names, number)
    yield value
    follower = next((one for one in pieces if _follows(lines, piece, one)), None)
    if follower:
        rest = _snippet(lines, follower, relation, names, number)
        yield replace(
            value,
            text=f"{value.text}{rest.text}",
            signs=(*value.signs, *rest.signs),
            confidence=min(value.confidence, rest.confidence),
            box=(value.box[0], rest.box[1], rest.box[2], value.box[3]),
        )


def _follows(lines, piece: Piece, other: Piece) -> bool:
    here, there = lines[piece.line], lines[other.line]
    if other.label or other.start or here.side or there.side or piece.end < len(here.text):
        return False
    height = max(here.height, there.height, 1.0)
    level = abs((here.top + here.bottom) - (there.top + there.bottom)) / 2 < 0.35 * height
    return level and -0.3 * height < there.left - here.right < 1.6 * height


def _pieces(at: int, line: Line, labels: Sequence[Label]) -> Iterator[Piece]:
    edges = [*labels, None]
    first = labels[0].start if labels else len(line.text)
    if line.text[:first].strip(MARKS):
        yield Piece(at, 0, first, None)
    for label, following in zip(labels, edges[1:], strict=True):
        yield Piece(at, label.end, following.start if following else len(line.text), label)


def _snippet(lines, piece: Piece, relation: str, names: str, number: int) -> Snippet:
    line = lines[piece.line]
    start, end = _trimmed(line.text, piece.start, piece.end)
    glyphs, places = line.print.glyphs[start:end], line.print.places[start:end]
    weights = [glyph.weight for glyph in glyphs if glyph.char != " "]
    return Snippet(
        text=line.text[start:end],
        signs=signs_of(glyphs, places),
        relation=relation,
        names=names,
        view=number,
        box=_box(line, start, end),
        height=line.height,
        confidence=sum(weights) / len(weights) if weights else 0.0,
    )


def _trimmed(text: str, start: int, end: int) -> tuple[int, int]:
    if sign := NUMBER_SIGN.match(text, start, end):
        start = sign.end()
    while start < end and text[start] in MARKS:
        start += 1
    while end > start and text[end - 1] in MARKS:
        end -= 1
    return start, end


def _box(line: Line, start: int, end: int) -> Box:
    """The part of a line's box from one character up to another."""
    if not line.text or (start, end) == (0, len(line.text)):
        return line.box
    places = line.print.places
    step = 0.5 / max(len(places), 1)
    left = max(0.0, places[start] - 2 * step) if start < len(places) else 1.0
    right = min(1.0, places[end - 1] + 2 * step) if end else 0.0

    def between(one, two, share):
        return (one[0] + (two[0] - one[0]) * share, one[1] + (two[1] - one[1]) * share)

    upper_left, upper_right, lower_right, lower_left = line.box
    return (
        between(upper_left, upper_right, left),
        between(upper_left, upper_right, right),
        between(lower_left, lower_right, right),
        between(lower_left, lower_right, left),
    )
