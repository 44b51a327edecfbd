"""From a photo to the lines of print on it: upright, cut out, read, with where they stand."""

from collections.abc import Sequence
from dataclasses import dataclass

import cv2
import numpy as np

from units.plates.domain.proposal import Barcode, Box
from units.plates.domain.sight import symbols
from units.plates.domain.sight.engine import Engine, Print
from units.plates.domain.sight.frames import (
    Frame,
    common_slope,
    cut_out,
    lengths,
    level,
    slopes,
)
from units.plates.domain.sight.look_alikes import tell_look_alikes

OVERVIEW = 960  # pixels on the longer side when the whole photo is searched for print
CLOSE = 1216
CLOSEST = 2.5  # a plate is drawn at most this much larger than the photo shows it
GOOD_HEIGHT = 30  # pixels of a line's height at which print is found best
BEYOND = 1.6  # of the size of a group of lines: how far around it something missing is looked for
MOST_LINES = 70
READS_WELL = 0.95
LEVEL, LEANING = 1.5, 18.0  # degrees


@dataclass(frozen=True)
class Line:
    """One line: what it says and its upright rectangle in pixels of the view it was read in."""

    print: Print
    left: float
    top: float
    right: float
    bottom: float
    box: Box
    side: bool = False  # stands across the others

    @property
    def text(self) -> str:
        return self.print.text

    @property
    def height(self) -> float:
        return self.bottom - self.top


@dataclass(frozen=True)
class View:
    """One look at a part of the photo: its lines, and how its pixels lie in the photo."""

    lines: tuple[Line, ...]
    frame: Frame


def overview(photo: np.ndarray, engine: Engine) -> tuple[View, ...]:
    """All print of a photo, level and upright: a view for each group of lines that stand together,
    the largest first. A plate and a sticker beside it may each stand on its own head."""
    whole = Frame.whole(photo)
    quads = engine.find(photo, min(OVERVIEW, max(640, max(photo.shape[:2]) * 2)))
    if not len(quads):
        quads = engine.find(_evened(photo), 1920)
    if not len(quads):
        return ()
    frame, quads = _levelled(whole, quads, engine)
    lines = _read(frame, frame.from_photo(quads), engine)
    over = _turned_over(frame, lines, engine)
    groups = _groups([line for line in lines if line not in over])
    views = [View(group, frame) for group in groups]
    views += [_turn_over(View(group, frame), engine) for group in _groups(over)]
    return tuple(sorted(views, key=lambda view: -len(view.lines)))


def _levelled(
    frame: Frame, quads: np.ndarray, engine: Engine, tries: int = 2
) -> tuple[Frame, np.ndarray]:
    """The photo turned until its print is level, and the print in the photo's own pixels.

    Print that leans much is found badly, so it is looked for again after such a turn.
    """
    for _try in range(tries):
        slope = common_slope(frame.from_photo(quads))
        turned = frame.turned(slope) if abs(slope) > LEVEL else frame
        if abs(slope) < LEANING:
            return turned, quads
        found = engine.find(turned.picture, OVERVIEW)
        if not len(found):
            break
        frame, quads = turned, turned.to_photo(found)
    return frame, quads


def close_view(first: View, engine: Engine, *, again: bool = False, beyond: bool = False) -> View:
    """Look at a group of lines from nearer: cut out, enlarged, searched and read again.

    ``again`` looks at another scale and with its contrast evened out; ``beyond`` looks further on
    every side, where something seems to be missing.
    """
    frame = _part_around(first, again, beyond)
    picture = _evened(frame.picture) if again else frame.picture
    quads = engine.find(picture, max(picture.shape[:2]))
    seen = Frame(picture, frame.way, frame.photo_size)
    return View(_read(seen, quads, engine), frame)


def barcodes(first: View, near: View) -> tuple[Barcode, ...]:
    """The symbols near the plate, else anywhere in the photo."""
    return symbols.decode([near.frame, first.frame])


def _turned_over(frame: Frame, lines: tuple[Line, ...], engine: Engine) -> list[Line]:
    """The lines that read better on their head. Those that read well as they are need no trial."""
    doubted = [line for line in lines if not line.side and line.print.confidence < READS_WELL]
    quads = frame.from_box([line.box for line in doubted])
    cuts = [cv2.rotate(cut_out(frame.picture, quad), cv2.ROTATE_180) for quad in quads]
    prints = engine.read(cuts)
    better = [
        line
        for line, print_ in zip(doubted, prints, strict=True)
        if _weight(print_) > _weight(line.print)
    ]
    # A lone line is more likely worn than turned; most lines on their head take the rest along.
    if len(better) * 2 > len([line for line in lines if not line.side]):
        return list(lines)
    return better if len(better) > 1 else []


def _turn_over(view: View, engine: Engine) -> View:
    frame = view.frame.upside_down()
    return View(_read(frame, frame.from_box([line.box for line in view.lines]), engine), frame)


def _weight(print_: Print) -> float:
    return print_.confidence**2 * len(print_.text)


def _read(frame: Frame, quads: np.ndarray, engine: Engine) -> tuple[Line, ...]:
    if not len(quads):
        return ()
    longer, _shorter = lengths(quads)
    quads = quads[np.argsort(-longer, kind="stable")[:MOST_LINES]]
    across = np.abs(slopes(quads)) > 55
    cuts = [cut_out(frame.picture, level(quad)) for quad in quads]
    read = zip(cuts, engine.read(cuts), strict=True)
    prints = [tell_look_alikes(cut, print_) for cut, print_ in read]
    for at in np.flatnonzero(across):
        prints[at] = _read_across(cuts[at], engine)
    lines = [
        _line(frame, quad, print_, bool(side))
        for quad, print_, side in zip(quads, prints, across, strict=True)
        if print_.text.strip()
    ]
    return tuple(sorted(lines, key=lambda line: (line.top, line.left)))


def _read_across(cut: np.ndarray, engine: Engine) -> Print:
    """A line that stands on end reads upwards or downwards: whichever reads better."""
    ways = (cv2.ROTATE_90_CLOCKWISE, cv2.ROTATE_90_COUNTERCLOCKWISE)
    if cut.shape[0] < 1.5 * cut.shape[1]:
        return engine.read([cut])[0]
    return max(engine.read([cv2.rotate(cut, way) for way in ways]), key=_weight)


def _line(frame: Frame, quad: np.ndarray, print_: Print, side: bool) -> Line:
    quad = level(quad)
    # The middle of each edge rather than its ends: a leaning line keeps its own height.
    left, right = (quad[0] + quad[3]) / 2, (quad[1] + quad[2]) / 2
    top, bottom = (quad[0] + quad[1]) / 2, (quad[3] + quad[2]) / 2
    edges = (float(left[0]), float(top[1]), float(right[0]), float(bottom[1]))
    return Line(print_, *edges, frame.to_box(quad), side)


def _groups(lines: Sequence[Line]) -> list[tuple[Line, ...]]:
    """Lines that stand near one another, relative to their height: each group may be a plate."""
    owner = list(range(len(lines)))

    def root(at: int) -> int:
        while owner[at] != at:
            at = owner[at]
        return at

    for one in range(len(lines)):
        for two in range(one):
            if _near(lines[one], lines[two]):
                owner[root(one)] = root(two)
    groups: dict[int, list[Line]] = {}
    for at, line in enumerate(lines):
        groups.setdefault(root(at), []).append(line)
    return [tuple(group) for group in sorted(groups.values(), key=len, reverse=True)]


def _near(one: Line, two: Line) -> bool:
    height = min(max(one.height, 1), max(two.height, 1))
    if max(one.height, two.height) > 5 * height:
        return False
    reach = (one.height + two.height) / 2
    aside = max(one.left, two.left) - min(one.right, two.right)
    apart = max(one.top, two.top) - min(one.bottom, two.bottom)
    return aside < 9 * reach and apart < 4 * reach


def _part_around(first: View, again: bool, beyond: bool) -> Frame:
    lines = first.lines
    upright = [line for line in lines if not line.side] or lines
    height = float(np.median([line.height for line in upright]))
    left, top = min(line.left for line in lines), min(line.top for line in lines)
    right, bottom = max(line.right for line in lines), max(line.bottom for line in lines)
    margin = BEYOND * max(right - left, bottom - top) if beyond else 2.0 * height
    tall, wide = first.frame.picture.shape[:2]
    left, top = max(0.0, left - margin), max(0.0, top - margin)
    right, bottom = min(float(wide), right + margin), min(float(tall), bottom + margin)
    goal = GOOD_HEIGHT * (1.45 if again else 1.0)
    longest = CLOSE * (1.25 if again else 1.0)
    scale = min(CLOSEST, goal / max(height, 1), longest / max(right - left, bottom - top, 1))
    return first.frame.part(left, top, right, bottom, scale)


def _evened(picture: np.ndarray) -> np.ndarray:
    """Local contrast evened out, so that shade and glare hide less."""
    light = cv2.cvtColor(picture, cv2.COLOR_BGR2LAB)
    light[:, :, 0] = cv2.createCLAHE(3.0, (8, 8)).apply(light[:, :, 0])
    return cv2.cvtColor(light, cv2.COLOR_LAB2BGR)
