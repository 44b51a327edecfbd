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
from units.plates.domain.proposal import FieldName
from units.plates.models import PlateReading, PlateRecord

FACTS = (FieldName.VOLTS, FieldName.HERTZ, FieldName.AMPS, FieldName.MADE)


class PlateError(ValueError):
    """A reading that cannot stand. ``other`` is the machine that has this serial, if one has."""

    def __init__(self, sentence: str, other: Unit | None = None):
        super().__init__(sentence)
        self.other = other


@dataclass(frozen=True)
class Identity:
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
    volts: str = "",
    hertz: str = "",
    amps: str = "",
    made: str = "",
    reading: PlateReading | None = None,
    by: AbstractBaseUser,
    at: datetime,
) -> PlateRecord:
    """Write down what a plate says. The first record says what the machine is.

    Later ones must agree with it; a serial that nobody could read before is taken over.
    ``reading`` is what the reader made of the photo; what was changed in it is kept with the
    record. Raises PlateError, CatalogueError or SerialError.
    """
    # Locked before it is read: two records at once do not both count as the first.
    unit = Unit.objects.select_for_update().get(pk=unit.pk)
    reading = _locked(reading)
    said = _resolve(unit, maker_text, model_text, serial_text)
    if unit.plates.exists():
        _refuse_contradiction(unit, said)
    _take_identity(unit, said)
    written = {
        "maker_text": " ".join(maker_text.split()),
        "model_text": " ".join(model_text.split()),
        "serial_text": said.serial,
    } | _facts(volts, hertz, amps, made)
    return PlateRecord.objects.create(
        unit=unit,
        photo=photo,
        reading=reading,
        **written,
        changed=_changed(reading, written),
        confirmed_at=at,
        confirmed_by=by,
    )


def _locked(reading: PlateReading | None) -> PlateReading | None:
    """The reading as it stands, held; one that was confirmed before is refused."""
    if reading is None:
        return None
    reading = PlateReading.objects.select_for_update().get(pk=reading.pk)
    if record := PlateRecord.objects.filter(reading=reading).select_related("unit").first():
        raise PlateError(
            _("This photo was confirmed already, as the plate of %(machine)s.")
            % {"machine": record.unit},
            record.unit,
        )
    return reading


def _facts(*texts: str) -> dict[str, str]:
    """Supply and date as they are kept; a text that does not fit is refused, not cut."""
    facts = {str(name): " ".join(text.split()) for name, text in zip(FACTS, texts, strict=True)}
    for name, text in facts.items():
        field = PlateRecord._meta.get_field(name)
        if len(text) > field.max_length:
            raise PlateError(
                _("“%(field)s” has at most %(most)d characters.")
                % {"field": field.verbose_name, "most": field.max_length}
            )
    return facts


def _changed(reading: PlateReading | None, written: dict[str, str]) -> dict | None:
    """For each field that the person changed: what was proposed and what was confirmed. Supply and
    date are not asked for everywhere: left empty, they were not changed."""
    proposal = reading.read if reading else None
    if proposal is None:
        return None
    offered = [name for name in FieldName if name not in FACTS or written[_column(name)]]
    pairs = {name: (proposal.text_of(name), written[_column(name)]) for name in offered}
    return {str(name): list(pair) for name, pair in pairs.items() if pair[0] != pair[1]}


def _column(name: FieldName) -> str:
    return name if name in FACTS else f"{name}_text"


def _resolve(unit: Unit, maker_text: str, model_text: str, serial_text: str) -> Identity:
    maker = find_or_add_maker(name=maker_text)
    model = find_or_add_model(maker=maker, number=model_text, kind=unit.model.kind)
    return Identity(model, tidy_serial(serial_text))


def _refuse_contradiction(unit: Unit, said: Identity) -> None:
    same_serial = not unit.serial_key or match_key(said.serial) in ("", unit.serial_key)
    if said.model == unit.model.current and same_serial:
        return
    read = f"{said.model} {said.serial}".strip()
    raise PlateError(
        _(
            "This plate reads %(read)s, but the machine was read as %(known)s before. Read the "
            "plate again; if it is another machine, log that one in."
        )
        % {"read": read, "known": unit}
    )


def _take_identity(unit: Unit, said: Identity) -> None:
    serial = said.serial or unit.serial
    try:
        correct_identity(unit=unit, model=said.model, serial=serial)
    except OtherMachineError as error:
        raise PlateError(str(error), error.other) from error
