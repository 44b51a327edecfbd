from datetime import datetime

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction

from units.catalogue.models import Kind, Unit
from units.catalogue.services import find_or_add_maker, find_or_add_model, find_or_add_unit
from units.plates.models import PlateReading, PlateRecord
from units.plates.services.records import record_plate


@transaction.atomic
def confirm_reading(
    *,
    reading: PlateReading,
    maker: str,
    number: str,
    serial: str,
    kind: Kind | None = None,
    volts: str = "",
    hertz: str = "",
    amps: str = "",
    made: str = "",
    unit: Unit | None = None,
    by: AbstractBaseUser,
    at: datetime,
) -> PlateRecord:
    """What a person confirms of a photo: the machine is found or added, and its plate recorded.

    ``unit`` says which machine it is when that is known; ``kind`` is needed for a model that
    nobody has met. The same reading confirmed again gives the first record; one that the reader
    still works on may be confirmed by hand. Raises PlateError, CatalogueError or SerialError.
    """
    # Held: two people who confirm one photo at once get one record.
    reading = PlateReading.objects.select_for_update().get(pk=reading.pk)
    if record := PlateRecord.objects.filter(reading=reading).first():
        return record
    if unit is None:
        model = find_or_add_model(maker=find_or_add_maker(name=maker), number=number, kind=kind)
        unit, _added = find_or_add_unit(model=model, serial=serial, by=by, at=at)
    return record_plate(
        unit=unit,
        photo=reading.photo,
        maker_text=maker,
        model_text=number,
        serial_text=serial,
        volts=volts,
        hertz=hertz,
        amps=amps,
        made=made,
        reading=reading,
        by=by,
        at=at,
    )
