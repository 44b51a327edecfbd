"""Which print stands beside, below or above a label, and so may be its value."""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from units.plates.domain.labels import Label
from units.plates.domain.sight.look import Line

MARKS = " \t:.,;#=№|_-–—°º/\\\uff1a\uff0c\u3001\uff1b"
RIGHT, BELOW = "right", "below"
# In heights of print, by trial on the tuning families.
FURTHEST_RIGHT, FURTHEST_BELOW, WIDEST_CELL = 14.0, 3.5, 20.0
NEARER = 0.7


@dataclass(frozen=True)
class Piece:
    """A stretch of a line between two labels, with the label before it, if any."""

    line: int
    start: int
    end: int
    label: Label | None


def text_of(lines: Sequence[Line], piece: Piece) -> str:
    return lines[piece.line].text[piece.start : piece.end].strip(MARKS)


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


def beside(
    lines, pieces, label: Piece, taken: set[Piece], above: bool
) -> Iterator[tuple[Piece, str]]:
    """What stands to the right of a label that has nothing after it, and what stands below it (or
    ``above`` it), unless that stands to the right of another label (``taken``)."""
    right = right_of(lines, pieces, label)
    if right:
        yield right, RIGHT
    below = _next_to(lines, pieces, label, taken, above)
    if below:
        yield _under(lines, pieces, label, below), BELOW


def values_stand_above(lines, pieces, taken: set[Piece]) -> bool:
    """Whether this plate writes its values over their labels: those are nearer than what is below.

    Without a label between two values, whether more labels have one above them than below.
    """
    values = _values(lines, pieces) - taken
    gaps = []
    for one in (one for one in pieces if one.label and not text_of(lines, one)):
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
    values = _values(lines, pieces) - taken
    if not above:
        row = lines[label.line].bottom
        others = [one for one in _bare_labels(lines, pieces, label) if lines[one.line].top > row]
        values -= {one for one in values if _below_any(lines, others, one)}
    return _nearest((_gap_below(lines, label, one, end, above), one) for one in values)


def _values(lines, pieces: Sequence[Piece]) -> set[Piece]:
    return {one for one in pieces if one.label is None and text_of(lines, one)}


def right_of(lines, pieces: Sequence[Piece], label: Piece) -> Piece | None:
    if label.label is None or text_of(lines, label):
        return None
    others = _bare_labels(lines, pieces, label)
    return _nearest(
        (_gap_right(lines, label, one), one)
        for one in _values(lines, pieces)
        if not _below_any(lines, others, one)
    )


def _bare_labels(lines, pieces: Sequence[Piece], but: Piece) -> list[Piece]:
    """The other labels that have nothing after them on their line."""
    return [one for one in pieces if one.label and one != but and not text_of(lines, one)]


def _below_any(lines, labels: Sequence[Piece], value: Piece) -> bool:
    return any(_straight_below(lines, label, value) for label in labels)


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
