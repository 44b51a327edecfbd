"""A photo is to be read."""

from datetime import datetime

from django.contrib.auth import get_user_model
from django.contrib.auth.models import AbstractBaseUser
from django.core.files.uploadedfile import UploadedFile
from django.db import transaction
from django.utils.translation import gettext as _

from units.files.services import digest_of, discard_file, store_picture
from units.plates.models import PlateAside, PlateReading, PlateRecord, PlateWalk
from units.plates.services.readings import LONGEST_SIDE, State
from units.plates.services.records import PlateError
from units.plates.services.tasks import read_plate

LATER = -10  # of what nobody waits for


def ask_reading(
    *,
    upload: UploadedFile,
    walk: PlateWalk | None = None,
    urgent: bool = True,
    by: AbstractBaseUser,
    at: datetime,
) -> PlateReading:
    """Keep the photo of a plate and have it read in the background.

    The same photo again gives the reading that it has: on one walk always, otherwise as long as
    nobody confirmed it. A photo that is not ``urgent`` lets those go first for which somebody
    waits. Raises FileRefusedError.
    """
    digest = digest_of(upload)
    if known := _known(digest, walk):
        return known
    # Drawn before anything is held: a large photo takes a second, and others write meanwhile.
    photo = store_picture(upload=upload, longest=LONGEST_SIDE, by=by, at=at)
    with transaction.atomic():
        # A double press waits here for its first half.
        get_user_model().objects.select_for_update(no_key=True).get(pk=by.pk)
        known = _known(digest, walk)
        if known is None:
            reading = PlateReading.objects.create(walk=walk, photo=photo, asked_at=at, asked_by=by)
            _queue(reading, urgent)
            return reading
    discard_file(file=photo)
    return known


@transaction.atomic
def ask_again(*, reading: PlateReading, by: AbstractBaseUser, at: datetime) -> PlateReading:
    """Have a photo read that could not be read. Raises PlateError when it was read."""
    reading = PlateReading.objects.select_for_update().get(pk=reading.pk)
    if reading.state == State.READ:
        raise PlateError(_("This photo has been read already."))
    if reading.state == State.UNREAD:
        reading.state, reading.trouble = State.WAITING, ""
        reading.asked_at, reading.asked_by = at, by
        reading.begun_at = reading.ended_at = None
        reading.save()
        _queue(reading)
    return reading


@transaction.atomic
def set_aside(*, reading: PlateReading, by: AbstractBaseUser, at: datetime) -> PlateAside:
    """Take a photo out of what waits; set aside twice, the first stands. It may still be confirmed.

    Raises PlateError when it was confirmed already.
    """
    reading = PlateReading.objects.select_for_update().get(pk=reading.pk)
    if PlateRecord.objects.filter(reading=reading).exists():
        raise PlateError(_("This photo is a machine's plate already and stays with it."))
    aside, _new = PlateAside.objects.get_or_create(
        reading=reading, defaults={"set_at": at, "set_by": by}
    )
    return aside


def _known(digest: str, walk: PlateWalk | None) -> PlateReading | None:
    readings = PlateReading.objects.of_photo(digest).filter(walk=walk)
    return (readings if walk else readings.unconfirmed()).first()


def _queue(reading: PlateReading, urgent: bool = True) -> None:
    # In the transaction that made the reading wait: a task is neither lost nor too early.
    read_plate.using(priority=0 if urgent else LATER).enqueue(str(reading.pk))
