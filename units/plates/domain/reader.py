"""Read a serial plate from a photo: the whole way from bytes to a proposal.

``read_photo`` is a pure function of its arguments: it asks no database, no network and no clock but
the one that says how long it took. The first call loads the networks, which takes a few seconds.
"""

import hashlib
import os
import time
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

import cv2
import numpy as np

from units.catalogue.domain.keys import match_key
from units.plates.domain.confidence import TABLE, fitted
from units.plates.domain.judge import Judgement, judge, never_sure
from units.plates.domain.knowledge import Knowledge
from units.plates.domain.labels import find_labels
from units.plates.domain.proposal import IDENTITY, Barcode, FieldName, Outcome, Proposal, TextLine
from units.plates.domain.sight import engine as sight
from units.plates.domain.sight.look import View, barcodes, close_view, overview

RULES, TABLES = Path(__file__).parent, TABLE.parent
LARGEST = 4096  # pixels on the longer side: more shows nothing that a plate needs
CROP_QUALITY = 88
THREADS = 2
TELLING = {FieldName.MODEL, FieldName.SERIAL}
PLATE, PERHAPS = 4.0, 2.0  # what a group of lines is worth that is a plate, or may be one


class PhotoUnreadableError(ValueError):
    """Bytes that are no picture."""


@dataclass(frozen=True)
class Look:
    """What was seen of the plate that was chosen: from afar, from near, and perhaps once more."""

    views: tuple[View, ...]
    codes: tuple[Barcode, ...]
    found: Judgement

    @property
    def near(self) -> View:
        return self.views[1]

    def text_of(self, name: FieldName) -> str:
        return self.found.fields[name].text if name in self.found.fields else ""


@cache
def _engine() -> sight.Engine:
    return sight.Engine(int(os.environ.get("UNDERBELT_READER_THREADS", THREADS)))


def warm() -> None:
    """Load the networks now rather than with the first photo."""
    _engine().find(np.full((64, 64, 3), 127, np.uint8), 64)


@cache
def version() -> str:
    """The networks, the fit, and a digest of every rule and table that a reading comes from."""
    digest = hashlib.sha256()
    for file in sorted([*RULES.rglob("*.py"), *TABLES.glob("*.toml")]):
        digest.update(file.read_bytes().replace(b"\r\n", b"\n"))
    return f"rules {digest.hexdigest()[:8]}; {sight.VERSION}; confidence {fitted()['version']}"


def read_photo(photo: bytes, knowledge: Knowledge) -> tuple[Proposal, bytes | None]:
    """What the plate in a photo says, and the plate alone, straightened, as JPEG.

    ``photo`` is a JPEG, PNG or WebP; its EXIF direction is heeded. Without any print in it the
    proposal is empty and the second value None. Raises PhotoUnreadableError.
    """
    started = time.perf_counter()
    picture = _decoded(photo)
    groups = overview(picture, _engine())
    if not groups:
        return _proposal({}, started=started), None
    first, plates = _choose(groups, knowledge)
    look = _look(first, knowledge)
    if plates > 1:
        look = replace(look, found=never_sure(look.found))
    return _proposed(look, plates, started), _as_jpeg(look.near.frame.picture)


def _decoded(photo: bytes) -> np.ndarray:
    picture = cv2.imdecode(np.frombuffer(photo, np.uint8), cv2.IMREAD_COLOR) if photo else None
    if picture is None:
        raise PhotoUnreadableError("These bytes are no picture that can be decoded.")
    scale = LARGEST / max(picture.shape[:2])
    if scale < 1:
        picture = cv2.resize(picture, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA)
    return picture


def _choose(groups: tuple[View, ...], knowledge: Knowledge) -> tuple[View, int]:
    """The group of lines that most looks like a plate, and how many groups look like one."""
    numbers = {match_key(number) for _maker, number in knowledge.models}
    scored = [(_worth(group, numbers), len(group.lines), -at) for at, group in enumerate(groups)]
    worth, _lines, at = max(scored)
    plates = sum(one >= PLATE for one, *_rest in scored)
    return groups[-at], max(plates, int(worth >= PERHAPS))


def _worth(group: View, numbers: set[str]) -> float:
    kinds, known = set(), 0
    for line in group.lines:
        kinds |= {label.names for label in find_labels(line.text)}
        known += any(match_key(word) in numbers for word in (line.text, *line.text.split()))
    return known + 2.0 * len(kinds & TELLING) + 0.5 * len(kinds - TELLING)


def _look(first: View, knowledge: Knowledge) -> Look:
    """Look closer, and further around for a model or serial that is not seen there."""
    look = _closer(first, knowledge)
    if all(map(look.text_of, TELLING)) or (wider := _wider(look)) is None:
        return look
    beyond = _closer(wider, knowledge)
    # What stands further off may be of another machine.
    fields = never_sure(beyond.found).fields
    added = {name: one for name, one in fields.items() if one.text and not look.text_of(name)}
    found = replace(look.found, fields=look.found.fields | added)
    return replace(look, views=beyond.views, found=found) if added else look


def _closer(first: View, knowledge: Knowledge) -> Look:
    """Look closer, and once more at another scale if that leaves a doubt."""
    near = close_view(first, _engine())
    codes = barcodes(first, near)
    views: tuple[View, ...] = (first, near)
    found = judge(views, codes, knowledge)
    if _worst(found) != Outcome.SURE:
        views = (*views, close_view(first, _engine(), again=True))
        found = judge(views, codes, knowledge)
    return Look(views, codes, found)


def _wider(look: Look) -> View | None:
    """All that stands around a group of lines, if that is more than any look saw of it."""
    beyond = close_view(look.views[0], _engine(), again=True, beyond=True)
    most = max(len(view.lines) for view in look.views)
    return beyond if len(beyond.lines) > most else None


def _worst(found: Judgement) -> Outcome:
    outcomes = {found.fields[name].outcome for name in IDENTITY if name in found.fields}
    if len(found.fields.keys() & set(IDENTITY)) < len(IDENTITY) or Outcome.TYPE in outcomes:
        return Outcome.TYPE
    return Outcome.LOOK if Outcome.LOOK in outcomes else Outcome.SURE


def _proposed(look: Look, plates: int, started: float) -> Proposal:
    near = look.near
    height, width = near.frame.picture.shape[:2]
    corners = np.array([[0, 0], [width, 0], [width, height], [0, height]], float)
    read = max(look.views[1:], key=lambda view: len(view.lines))
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
