from collections.abc import Sequence
from datetime import datetime

from django.contrib.auth.models import AbstractBaseUser
from django.core.files.uploadedfile import UploadedFile
from django.db import IntegrityError, transaction
from django.utils.translation import gettext as _

from units.catalogue.domain.keys import SerialError, clean_serial, match_key
from units.catalogue.models import MachineModel, Unit, UnitPhoto
from units.catalogue.services.errors import CatalogueError
from units.files.models import StoredFile
from units.files.services import digest_of, store_picture


class OtherMachineError(CatalogueError):
    """Another machine (``other``) has this maker's serial already."""

    def __init__(self, sentence: str, other: Unit):
        super().__init__(sentence)
        self.other = other


@transaction.atomic
def find_or_add_unit(
    *, model: MachineModel, serial: str, by: AbstractBaseUser, at: datetime
) -> tuple[Unit, bool]:
    """The maker's machine of this serial, and whether it is new. Without a serial always new.

    Two people who add one serial at once get one machine. Raises SerialError.
    """
    serial = tidy_serial(serial)
    # Held, so that the model is not merged away while a machine is put under it.
    model = MachineModel.objects.select_for_update(of=("self",)).get(pk=model.pk).current
    facts = {"model": model, "serial": serial, "first_seen_at": at, "first_seen_by": by}
    if not serial:
        return Unit.objects.create(maker=model.maker, **facts), True
    return Unit.objects.get_or_create(
        maker=model.maker, serial_key=match_key(serial), defaults=facts
    )


@transaction.atomic
def correct_identity(*, unit: Unit, model: MachineModel, serial: str) -> Unit:
    """Write down what the plate says a machine is. Raises SerialError or OtherMachineError."""
    serial = tidy_serial(serial)
    unit = Unit.objects.select_for_update().get(pk=unit.pk)
    unit.model, unit.maker = model, model.maker
    unit.serial, unit.serial_key = serial, match_key(serial)
    try:
        with transaction.atomic():
            unit.save(update_fields=["model", "maker", "serial", "serial_key"])
    except IntegrityError as error:
        other = Unit.objects.with_identity().get(maker=unit.maker, serial_key=unit.serial_key)
        raise OtherMachineError(
            _("%(machine)s is in the books already, as another machine. Is it the same one?")
            % {"machine": other},
            other,
        ) from error
    return unit


def add_photo(
    *,
    unit: Unit,
    file: StoredFile,
    shows: str,
    document: str = "",
    by: AbstractBaseUser,
    at: datetime,
) -> UnitPhoto:
    """Keep a stored picture with a machine; ``document`` is the number of the job, if any."""
    return UnitPhoto.objects.create(
        unit=unit,
        file=file,
        shows=UnitPhoto.Shows(shows),
        document=document,
        taken_at=at,
        taken_by=by,
    )


@transaction.atomic
def add_photos(
    *, unit: Unit, uploads: Sequence[UploadedFile], shows: str, by: AbstractBaseUser, at: datetime
) -> list[UnitPhoto]:
    """Store pictures and keep them with a machine. One sent twice for one purpose is kept once.

    Raises FileRefusedError; then none is kept.
    """
    unit = Unit.objects.select_for_update().get(pk=unit.pk)
    kept = set(unit.photos.filter(shows=shows).values_list("file__original_digest", flat=True))
    added = []
    for upload in uploads:
        digest = digest_of(upload)
        if digest not in kept:
            kept.add(digest)
            file = store_picture(upload=upload, by=by, at=at)
            added.append(add_photo(unit=unit, file=file, shows=shows, by=by, at=at))
    return added


def tidy_serial(text: str) -> str:
    """The serial as it is kept, ``""`` when nobody could read one. Raises SerialError."""
    try:
        return clean_serial(text)
    except SerialError as error:
        raise SerialError(_(str(error))) from error
