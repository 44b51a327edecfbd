"""Read a serial plate from a photo: the whole way from bytes to a proposal.

``read_photo`` is a pure function of its arguments: it asks no database, no network and no clock but
the one that says how long it took. The first call loads the networks, which takes a few seconds.
"""

import os
import time
from dataclasses import dataclass
from functools import cache

import cv2
import numpy as np

from units.catalogue.domain.keys import match_key
from units.plates.domain.confidence import fitted
from units.plates.domain.judge import Judgement, capped, judge
from units.plates.domain.knowledge import Knowledge
from units.plates.domain.labels import find_labels
from units.plates.domain.proposal import IDENTITY, Barcode, FieldName, Outcome, Proposal, TextLine
from units.plates.domain.sight import engine as sight
from units.plates.domain.sight.look import Overview, View, barcodes, close_view, overview

READER = "plate reader 1"
LARGEST = 4096  # pixels on the longer side: more shows nothing that a plate needs
CROP_QUALITY = 88
THREADS = 2
TELLING = {"model", "serial"}


class PhotoUnreadableError(ValueError):
    """Bytes that are no picture."""


@dataclass(frozen=True)
class Look:
    """What was seen of the plate that was chosen."""

    views: tuple[View, ...]
    codes: tuple[Barcode, ...]
    found: Judgement


@cache
def _engine() -> sight.Engine:
    return sight.Engine(int(os.environ.get("UNDERBELT_READER_THREADS", THREADS)))


def warm() -> None:
    """Load the networks now rather than with the first photo."""
    _engine().find(np.full((64, 64, 3), 127, np.uint8), 64)


def version() -> str:
    return f"{READER}; {sight.VERSION}; confidence {fitted()['version']}"


def read_photo(photo: bytes, knowledge: Knowledge) -> tuple[Proposal, bytes | None]:
    """What the plate in a photo says, and the plate alone, straightened, as JPEG.

    ``photo`` is a JPEG, PNG or WebP; its EXIF direction is heeded. Without any print in it the
    proposal is empty and the second value None. Raises PhotoUnreadableError.
    """
    started = time.perf_counter()
    picture = _decoded(photo)
    first = overview(picture, _engine())
    if first is None:
        return _proposal({}, started=started), None
    group, plates = _choose(first, knowledge)
    look = _look(first, group, knowledge)
    if plates > 1:
        look = Look(look.views, look.codes, capped(look.found, Outcome.LOOK))
    near = look.views[1] if len(look.views) > 1 else look.views[0]
    return _proposed(look, near, plates, started), _as_jpeg(near.frame.picture)


def _decoded(photo: bytes) -> np.ndarray:
    picture = cv2.imdecode(np.frombuffer(photo, np.uint8), cv2.IMREAD_COLOR) if photo else None
    if picture is None:
        raise PhotoUnreadableError("These bytes are no picture that can be decoded.")
    scale = LARGEST / max(picture.shape[:2])
    if scale < 1:
        picture = cv2.resize(picture, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA)
    return picture


def _choose(first: Overview, knowledge: Knowledge) -> tuple[tuple[int, ...], int]:
    """The group of lines that most looks like a plate, and how many groups look like one."""
    numbers = {match_key(number) for _maker, number in knowledge.models}
    scored = [(_worth(first, group, numbers), group) for group in first.groups]
    plates = sum(worth >= 4 for worth, _group in scored)
    worth, best = max(scored, key=lambda one: (one[0], len(one[1])))
    if worth < 2:
        best = tuple(at for group in first.groups for at in group)
    return best, max(plates, 1 if worth >= 2 else 0)


def _worth(first: Overview, group: tuple[int, ...], numbers: set[str]) -> float:
    worth = 0.0
    kinds = set()
    for at in group:
        text = first.view.lines[at].text
        kinds |= {label.names for label in find_labels(text)}
        worth += 1.0 * any(match_key(word) in numbers for word in (text, *text.split()))
    return worth + 2.0 * len(kinds & TELLING) + 0.5 * len(kinds - TELLING)


def _look(first: Overview, group: tuple[int, ...], knowledge: Knowledge) -> Look:
    """Look closer, and once more at another scale if that leaves a doubt."""
    chosen = View(tuple(first.view.lines[at] for at in group), first.view.frame)
    near = close_view(first.view, group, _engine())
    codes = barcodes(first.view, near)
    views: tuple[View, ...] = (chosen, near)
    found = judge(views, codes, knowledge)
    if _worst(found) != Outcome.SURE:
        views = (*views, close_view(first.view, group, _engine(), again=True))
        found = judge(views, codes, knowledge)
    return Look(views, codes, found)


def _worst(found: Judgement) -> Outcome:
    outcomes = {found.fields[name].outcome for name in IDENTITY if name in found.fields}
    if len(found.fields.keys() & set(IDENTITY)) < len(IDENTITY) or Outcome.TYPE in outcomes:
        return Outcome.TYPE
    return Outcome.LOOK if Outcome.LOOK in outcomes else Outcome.SURE


def _proposed(look: Look, near: View, plates: int, started: float) -> Proposal:
    height, width = near.frame.picture.shape[:2]
    corners = np.array([[0, 0], [width, 0], [width, height], [0, height]], float)
    read = max(look.views[1:], key=lambda view: len(view.lines), default=near)
    return _proposal(
        look.found.fields,
        started=started,
        barcodes=look.codes,
        lines=tuple(
            TextLine(line.text, round(line.print.confidence, 4), line.box) for line in read.lines
        ),
        plate=near.frame.to_box(corners) if plates else None,
        plates=plates,
        outcome=_worst(look.found),
        features=look.found.features,
    )


def _proposal(fields: dict[FieldName, object], *, started: float, **seen) -> Proposal:
    return Proposal(
        fields=fields, version=version(), seconds=round(time.perf_counter() - started, 3), **seen
    )


def _as_jpeg(picture: np.ndarray) -> bytes:
    _done, coded = cv2.imencode(".jpg", picture, [cv2.IMWRITE_JPEG_QUALITY, CROP_QUALITY])
    return coded.tobytes()
