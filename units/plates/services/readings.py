"""A photo on its way: begun, read or not read, put off."""

from datetime import datetime
from typing import Any
from uuid import UUID

from django.core.files.base import ContentFile

from units.files.models import StoredFile
from units.files.services import discard_file, store_picture
from units.plates.domain.proposal import Proposal
from units.plates.models import PlateReading

LONGEST_SIDE = 4096  # pixels: what the reader can use
State, Trouble = PlateReading.State, PlateReading.Trouble


def begin_reading(*, pk: UUID, at: datetime) -> PlateReading | None:
    """Take a waiting reading to read it now; None when it waits no longer."""
    taken = PlateReading.objects.filter(pk=pk, state=State.WAITING)
    if not taken.update(state=State.READING, begun_at=at):
        return None
    return PlateReading.objects.select_related("photo", "asked_by").get(pk=pk)


def keep_read(
    *, reading: PlateReading, proposal: Proposal, plate: bytes | None, at: datetime
) -> bool:
    """Keep what was read; False when the reading was given up meanwhile. ``plate`` is a JPEG."""
    crop = _keep_crop(reading, plate, at) if plate else None
    kept = PlateReading.objects.filter(pk=reading.pk, state=State.READING).update(
        state=State.READ,
        outcome=str(proposal.outcome),
        proposal=_storable(proposal.as_json()),
        crop=crop,
        ended_at=at,
    )
    if crop and not kept:
        discard_file(file=crop)
    return bool(kept)


def keep_unread(*, reading: PlateReading, trouble: str, at: datetime) -> None:
    """Say that a photo was not read, and why."""
    PlateReading.objects.filter(pk=reading.pk, state=State.READING).update(
        state=State.UNREAD, trouble=Trouble(trouble), ended_at=at
    )


def put_off(*, reading: PlateReading) -> None:
    """Let a begun reading wait again: the worker was stopped, which is not the photo's fault."""
    PlateReading.objects.filter(pk=reading.pk, state=State.READING).update(
        state=State.WAITING, begun_at=None
    )


def _keep_crop(reading: PlateReading, plate: bytes, at: datetime) -> StoredFile:
    upload = ContentFile(plate, name="plate.jpg")
    return store_picture(upload=upload, longest=LONGEST_SIDE, by=reading.asked_by, at=at)


def _storable(value: Any) -> Any:
    """Without what PostgreSQL's JSON refuses: a barcode may hold any character, NUL too."""
    match value:
        case dict():
            return {str(key): _storable(one) for key, one in value.items()}
        case list() | tuple():
            return [_storable(one) for one in value]
        case str():
            return value.replace("\0", "\ufffd").encode("utf-8", "replace").decode("utf-8")
    return value
