from dataclasses import dataclass
from datetime import datetime

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils.translation import gettext as _

from units.catalogue.domain.keys import match_key
from units.catalogue.models import MachineModel, Unit
from units.catalogue.services import (
    OtherMachineError,
    correct_identity,
    find_or_add_maker,
    find_or_add_model,
    tidy_serial,
)
from units.files.models import StoredFile
from units.plates.models import PlateRecord


class PlateError(ValueError):
    """A reading that cannot stand. ``other`` is the machine that has this serial, if one has."""

    def __init__(self, sentence: str, other: Unit | None = None):
        super().__init__(sentence)
        self.other = other


@dataclass(frozen=True)
class Reading:
    """What a plate says, resolved to the catalogue."""

    model: MachineModel
    serial: str


@transaction.atomic
def record_plate(
    *,
    unit: Unit,
    photo: StoredFile,
    maker_text: str,
    model_text: str,
    serial_text: str,
    by: AbstractBaseUser,
    at: datetime,
) -> PlateRecord:
    """Write down what a plate says. The first reading says what the machine is.

    Later readings must agree with it; a serial that nobody could read before is taken over.
    Raises PlateError, CatalogueError or SerialError.
    """
    # Locked before it is read: two readings at once do not both count as the first.
    unit = Unit.objects.select_for_update().get(pk=unit.pk)
    reading = _resolve(unit, maker_text, model_text, serial_text)
    if unit.plates.exists():
        _refuse_contradiction(unit, reading)
    _take_identity(unit, reading)
    return PlateRecord.objects.create(
        unit=unit,
        photo=photo,
        maker_text=" ".join(maker_text.split()),
        model_text=" ".join(model_text.split()),
        serial_text=reading.serial,
        confirmed_at=at,
        confirmed_by=by,
    )


def _resolve(unit: Unit, maker_text: str, model_text: str, serial_text: str) -> Reading:
    maker = find_or_add_maker(name=maker_text)
    model = find_or_add_model(maker=maker, number=model_text, kind=unit.model.kind)
    return Reading(model, tidy_serial(serial_text))


def _refuse_contradiction(unit: Unit, reading: Reading) -> None:
    same_serial = not unit.serial_key or match_key(reading.serial) in ("", unit.serial_key)
    if reading.model == unit.model.current and same_serial:
        return
    read = f"{reading.model} {reading.serial}".strip()
    raise PlateError(
        _(
            "This plate reads %(read)s, but the machine was read as %(known)s before. Read the "
            "plate again; if it is another machine, log that one in."
        )
        % {"read": read, "known": unit}
    )


def _take_identity(unit: Unit, reading: Reading) -> None:
    serial = reading.serial or unit.serial
    try:
        correct_identity(unit=unit, model=reading.model, serial=serial)
    except OtherMachineError as error:
        raise PlateError(str(error), error.other) from error
