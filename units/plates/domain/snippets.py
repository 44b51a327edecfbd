"""Pieces of print that may be a value, and how they stand to the label that would name them."""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from units.plates.domain.labels import Label, find_labels
from units.plates.domain.likeness import Sign, signs_of
from units.plates.domain.proposal import Box
from units.plates.domain.sight.look import Line, View

MARKS = " \t:.,;#=№|_-–—°º/\\\uff1a\uff0c\u3001\uff1b"
# How well a place beside a label stands for its value: natural logarithms, by trial.
INLINE, RIGHT, BELOW, ALONE = "inline", "right", "below", "alone"
# What is left of a label in a language that has its number sign after it: "N.°:", "Nr.:", "NO:".
NUMBER_SIGN = re.compile(r"\s*(?:N\s?[.°ºo]{0,2}|NR\.?|NO\.?|#)\s*:", re.I)
FURTHEST_RIGHT = 14.0  # in heights of the label's line
FURTHEST_BELOW = 3.5
WIDEST_CELL = 14.0
NEARER = 0.7


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


@dataclass(frozen=True)
class Piece:
    """A stretch of a line between two labels, with the label before it, if any."""

    line: int
    start: int
    end: int
    label: Label | None


def snippets_of(view: View, number: int) -> list[Snippet]:
    """All values that labels name in one view, and every stretch of print that no label names."""
    lines = view.lines
    labels = [find_labels(line.text) for line in lines]
    pieces = [piece for at, line in enumerate(lines) for piece in _pieces(at, line, labels[at])]
    taken = {one for piece in pieces if (one := _right_of(lines, pieces, piece))}
    above = _values_stand_above(lines, pieces, taken)
    found = []
    for piece in pieces:
        if piece.label is None:
            found.append(_snippet(lines, piece, ALONE, "", number))
        elif _text(lines, piece):
            found += _with_rest(lines, pieces, piece, INLINE, piece.label.names, number)
        else:
            for other, relation in _beside(lines, pieces, piece, taken, above):
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


def _text(lines: Sequence[Line], piece: Piece) -> str:
    return lines[piece.line].text[piece.start : piece.end].strip(MARKS)


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


def _span(lines: Sequence[Line], piece: Piece, start: int, end: int) -> tuple[float, float]:
    """Where a stretch of characters lies from left to right, in pixels of the view."""
    line = lines[piece.line]
    places = line.print.places
    if not places:
        return line.left, line.right
    width = line.right - line.left
    step = 0.5 * width / len(places)
    first, last = places[min(start, len(places) - 1)], places[max(0, min(end, len(places)) - 1)]
    return line.left + first * width - step, line.left + last * width + step


def _beside(
    lines, pieces, label: Piece, taken: set[Piece], above: bool
) -> Iterator[tuple[Piece, str]]:
    """What stands to the right of a label that has nothing after it, and what stands below it (or
    ``above`` it), unless that stands to the right of another label (``taken``)."""
    right = _right_of(lines, pieces, label)
    if right:
        yield right, RIGHT
    below = _next_to(lines, pieces, label, taken, above)
    if below:
        yield _under(lines, pieces, label, below), BELOW


def _values_stand_above(lines, pieces, taken: set[Piece]) -> bool:
    """Whether this plate writes its values over their labels: those are nearer than what is below.

    Without a label between two values, whether more labels have one above them than below.
    """
    values = _values(lines, pieces) - taken
    gaps = []
    for one in (one for one in pieces if one.label and not _text(lines, one)):
        end = _cell_end(lines, pieces, one)
        gaps.append([_least_gap(lines, one, values, end, above) for above in (True, False)])
    both = [(over, under) for over, under in gaps if over is not None and under is not None]
    if both:
        return sum(over for over, _ in both) < NEARER * sum(under for _, under in both)
    return sum(over is not None for over, _ in gaps) > sum(under is not None for _, under in gaps)


def _least_gap(lines, label: Piece, values: set[Piece], end: float, above: bool) -> float | None:
    found = (_gap_below(lines, label, one, end, above) for one in values)
    return min((gap for gap in found if gap is not None), default=None)


def _next_to(lines, pieces, label: Piece, taken: set[Piece], above: bool) -> Piece | None:
    end = _cell_end(lines, pieces, label)
    return _nearest(
        (_gap_below(lines, label, one, end, above), one) for one in _values(lines, pieces) - taken
    )


def _values(lines, pieces: Sequence[Piece]) -> set[Piece]:
    return {one for one in pieces if one.label is None and _text(lines, one)}


def _right_of(lines, pieces: Sequence[Piece], label: Piece) -> Piece | None:
    if label.label is None or _text(lines, label):
        return None
    bare = [one for one in pieces if one.label and one != label and not _text(lines, one)]
    return _nearest(
        (_gap_right(lines, label, one), one)
        for one in _values(lines, pieces)
        if not any(_straight_below(lines, other, one) for other in bare)
    )


def _straight_below(lines, label: Piece, value: Piece) -> bool:
    """Whether a value stands close below a label, not aside: then it belongs to that one."""
    here, there = lines[label.line], lines[value.line]
    left, right = _span(lines, label, label.label.start, label.label.end)
    first, last = _span(lines, value, value.start, value.end)
    close = -0.5 * here.height < there.top - here.bottom < 1.2 * here.height
    return close and not here.side and min(right, last) > max(left, first)


def _nearest(found: Iterable[tuple[float | None, Piece]]) -> Piece | None:
    reached = [(gap, one.line, one.start, one) for gap, one in found if gap is not None]
    return min(reached, key=lambda one: one[:3])[3] if reached else None


def _under(lines, pieces, label: Piece, value: Piece) -> Piece:
    """Of several values found as one line under several labels: the words under this one."""
    others = [one for one in pieces if one.line == label.line and one.label]
    words = list(re.finditer(r"\S+", lines[value.line].text[: value.end]))
    words = [word for word in words if word.start() >= value.start]
    if len(others) < 2 or len(words) < 2:
        return value
    own = [
        word
        for word in words
        if min(others, key=lambda one: _aside(lines, one, value, word)) is label
    ]
    return replace(value, start=own[0].start(), end=own[-1].end()) if own else value


def _aside(lines, label: Piece, value: Piece, word: re.Match) -> float:
    left, right = _span(lines, label, label.label.start, label.label.end)
    first, last = _span(lines, value, word.start(), word.end())
    return min(abs(left - first), abs(left + right - first - last) / 2)


def _gap_right(lines, label: Piece, value: Piece) -> float | None:
    here, there = lines[label.line], lines[value.line]
    if here.side != there.side or label.line == value.line:
        return None
    height = max(here.height, 1.0)
    apart = abs((here.top + here.bottom) - (there.top + there.bottom)) / 2
    _left, right = _span(lines, label, label.label.start, label.label.end)
    gap = _span(lines, value, value.start, value.end)[0] - right
    if apart > 0.7 * max(height, there.height) or not -height < gap < FURTHEST_RIGHT * height:
        return None
    return max(gap, 0.0) + 1.0 + 4 * apart


def _cell_end(lines, pieces: Sequence[Piece], label: Piece) -> float:
    """How far to the right the room below a label reaches: up to the next label of its row."""
    here = lines[label.line]
    left, right = _span(lines, label, label.label.start, label.label.end)
    rights = [
        lines[one.line].left
        for one in pieces
        if one.label
        and one.line != label.line
        and lines[one.line].left > right
        and lines[one.line].top < here.bottom
        and lines[one.line].bottom > here.top
    ]
    return min([*rights, left + WIDEST_CELL * here.height])


def _gap_below(lines, label: Piece, value: Piece, cell_end: float, above: bool) -> float | None:
    here, there = lines[label.line], lines[value.line]
    if here.side or there.side or label.line == value.line:
        return None
    height = max(here.height, 1.0)
    drop = here.top - there.bottom if above else there.top - here.bottom
    reach = FURTHEST_BELOW * max(height, there.height)
    if not -0.5 * height < drop < reach:
        return None
    left, right = _span(lines, label, label.label.start, label.label.end)
    first, last = _span(lines, value, value.start, value.end)
    overlap = min(right, last) - max(left, first)
    aligned = abs(left - first) < 1.5 * height
    inside = first > left - height and (first + last) / 2 < cell_end
    if overlap <= 0 and not aligned and not inside:
        return None
    aside = abs((left + right) - (first + last)) / 2
    return max(drop, 0.0) + 1.0 + 0.4 * min(abs(left - first), aside)
