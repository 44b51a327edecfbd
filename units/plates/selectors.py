from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import OuterRef, Q, Subquery

from units.catalogue.domain.keys import match_key
from units.catalogue.models import MachineModel, Maker, Unit
from units.plates.domain.knowledge import Knowledge, corrections
from units.plates.domain.proposal import FieldName, Proposal
from units.plates.models import PlateReading, PlateRecord, PlateWalk

NEWEST_RECORDS = 2000
LEARNED_FROM = (FieldName.MODEL, FieldName.SERIAL)


def newest_plates(units: Iterable[Unit]) -> dict[int, PlateRecord]:
    """The newest record of each machine's plate, by the machine's id. One query."""
    newest = PlateRecord.objects.filter(unit=OuterRef("unit")).order_by("-confirmed_at", "-id")
    records = PlateRecord.objects.filter(
        unit__in=[unit.pk for unit in units], pk=Subquery(newest.values("pk")[:1])
    )
    return {record.unit_id: record for record in records.select_related("photo", "confirmed_by")}


def knowledge() -> Knowledge:
    """What the shop knows that helps to read a plate. Three queries.

    A model that was only typed once, never confirmed nor read on a plate, teaches nothing: it may
    be a typing error.
    """
    models = (
        MachineModel.objects.filter(merged_into=None)
        .filter(Q(confirmed=True) | Q(units__plates__isnull=False))
        .distinct()
        .order_by("maker__name", "number")
    )
    records = PlateRecord.objects.order_by("-confirmed_at", "-id").values_list(
        "unit__maker__name", "serial_text", "changed"
    )[:NEWEST_RECORDS]
    return Knowledge(
        makers=tuple(Maker.objects.order_by("name").values_list("name", flat=True)),
        models=tuple(models.values_list("maker__name", "number")),
        serials=tuple((maker, serial) for maker, serial, _changed in records if serial),
        misread=_misread(changed for *_rest, changed in records if changed),
    )


def _misread(changes: Iterable[dict]) -> Counter:
    return Counter(
        pair
        for changed in changes
        for name in LEARNED_FROM
        if name in changed
        for pair in corrections(*changed[name])
    )


def open_walks() -> list[PlateWalk]:
    """Walks with photos that nobody confirmed, newest first, with their progress. One query."""
    return list(PlateWalk.objects.open().order_by("-opened_at"))


def readings_of(walk: PlateWalk) -> list[PlateReading]:
    """A walk's photos as they were sent, with their pictures and records. One query."""
    return list(walk.readings.with_pictures())


def loose_readings() -> list[PlateReading]:
    """Photos of no walk that nobody confirmed, newest first. One query."""
    readings = PlateReading.objects.loose().unconfirmed().with_pictures()
    return list(readings.order_by("-asked_at", "-id"))


def waiting_for_a_look() -> int:
    """How many photos wait for a person to confirm them. One query."""
    return PlateReading.objects.unconfirmed().ended().count()


@dataclass(frozen=True)
class ReadingPage:
    """What the screen says of one photo.

    ``same_photo`` are the records made from the same photo before, ``same_photo_readings`` its
    other readings that nobody confirmed. ``known_unit`` is the machine of the proposed maker and
    serial, ``other_units`` those of other makers with the same serial, ``catalogued`` the proposed
    model.
    """

    reading: PlateReading
    proposal: Proposal | None
    same_photo: list[PlateRecord]
    same_photo_readings: list[PlateReading]
    known_unit: Unit | None
    other_units: list[Unit]
    catalogued: MachineModel | None


def reading_page(reading: PlateReading) -> ReadingPage:
    """The facts around one reading, in at most four queries."""
    proposal = reading.read
    digest = reading.photo.original_digest
    records = PlateRecord.objects.filter(photo__original_digest=digest)
    records = records.exclude(reading=reading).select_related("unit__model__maker", "confirmed_by")
    others = PlateReading.objects.of_photo(digest).unconfirmed().exclude(pk=reading.pk)
    known, rest = _units_of(proposal) if proposal else (None, [])
    return ReadingPage(
        reading=reading,
        proposal=proposal,
        same_photo=list(records),
        same_photo_readings=list(others.with_pictures()),
        known_unit=known,
        other_units=rest,
        catalogued=_catalogued(proposal) if proposal else None,
    )


def _units_of(proposal: Proposal) -> tuple[Unit | None, list[Unit]]:
    """The machine of the maker and serial that were read, and others with this serial."""
    key = match_key(proposal.text_of(FieldName.SERIAL))
    if not key:
        return None, []
    maker_key = match_key(proposal.text_of(FieldName.MAKER))
    units = list(Unit.objects.with_identity().filter(serial_key=key))
    known = next((unit for unit in units if unit.maker.key == maker_key), None)
    return known, [unit for unit in units if unit != known]


def _catalogued(proposal: Proposal) -> MachineModel | None:
    maker, number = (
        match_key(proposal.text_of(name)) for name in (FieldName.MAKER, FieldName.MODEL)
    )
    models = MachineModel.objects.select_related("maker", "kind", "merged_into__maker")
    model = models.filter(maker__key=maker, key=number).first() if number else None
    return model.current if model else None


def twins_among(readings: Iterable[PlateReading]) -> dict[str, list[PlateReading]]:
    """Readings that propose one maker and serial, by that key: one machine sent twice, perhaps."""
    by_key: dict[str, list[PlateReading]] = {}
    for reading in readings:
        proposal = reading.read
        serial = match_key(proposal.text_of(FieldName.SERIAL)) if proposal else ""
        if serial:
            key = f"{match_key(proposal.text_of(FieldName.MAKER))} {serial}"
            by_key.setdefault(key, []).append(reading)
    return {key: twins for key, twins in by_key.items() if len(twins) > 1}
