from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db.models import OuterRef, Q, Subquery

from units.catalogue.domain.keys import match_key
from units.catalogue.models import MachineModel, Maker, Unit
from units.plates.domain.knowledge import Knowledge, corrections
from units.plates.domain.proposal import IDENTITY, Barcode, FieldName, Proposal
from units.plates.domain.showing import contradicting, is_blank, settled
from units.plates.models import PlateReading, PlateRecord, PlateWalk
from units.plates.querysets import PlateReadingQuerySet

NEWEST_RECORDS = 2000
PATIENCE = timedelta(seconds=20)  # a photo that waits longer is said to be slow
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


def loose_readings() -> PlateReadingQuerySet:
    """Photos of no walk that nobody confirmed, newest first. One query."""
    readings = PlateReading.objects.loose().unconfirmed().with_pictures()
    return readings.order_by("-asked_at", "-id")


def waiting_for_a_look() -> int:
    """How many photos wait for a person to confirm them. One query."""
    return PlateReading.objects.unconfirmed().ended().count()


def situation_of(reading: PlateReading, at: datetime) -> str:
    """What the screen has to say of a photo: ``confirmed``, ``unread``, ``waiting``, ``slow``
    (waiting for long), or the outcome of what was read (``sure``, ``look``, ``type``)."""
    if hasattr(reading, "record"):
        return "confirmed"
    if reading.state == PlateReading.State.READ:
        return reading.outcome
    if reading.state == PlateReading.State.UNREAD:
        return "unread"
    return "slow" if at - reading.asked_at > PATIENCE else "waiting"


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

    @property
    def is_blank(self) -> bool:
        return self.proposal is not None and is_blank(self.proposal)

    @property
    def contradicting(self) -> list[Barcode]:
        """Codes on the plate that say another serial than its print."""
        return contradicting(self.proposal) if self.proposal else []


def reading_page(reading: PlateReading) -> ReadingPage:
    """The facts around one reading, in at most four queries."""
    proposal = reading.read
    digest = reading.photo.original_digest
    records = PlateRecord.objects.filter(photo__original_digest=digest)
    records = records.exclude(reading=reading).select_related("unit__model__maker", "confirmed_by")
    others = PlateReading.objects.of_photo(digest).unconfirmed().exclude(pk=reading.pk)
    facts = _facts_of([proposal])
    return ReadingPage(
        reading=reading,
        proposal=proposal,
        same_photo=list(records),
        same_photo_readings=list(others.with_pictures()),
        known_unit=facts.known(proposal),
        other_units=facts.others(proposal),
        catalogued=facts.catalogued(proposal),
    )


@dataclass(frozen=True)
class WalkRow:
    """One photo of a walk, with its place in the row from 1 on.

    ``known_unit`` and ``catalogued`` as in ReadingPage; ``twins`` are the places of the photos that
    propose the same maker and serial.
    """

    place: int
    reading: PlateReading
    proposal: Proposal | None
    known_unit: Unit | None
    catalogued: MachineModel | None
    twins: list[int]

    @property
    def facts(self) -> list[tuple[str, str]]:
        """Supply and date, as far as they are sure."""
        sure = settled(self.proposal) if self.proposal else {}
        return [(str(name), text) for name, text in sure.items() if name not in IDENTITY]

    @property
    def ended(self) -> bool:
        """Whether it waits for a person, not for the reader."""
        return self.reading.state in (PlateReading.State.READ, PlateReading.State.UNREAD)

    @property
    def can_be_taken(self) -> bool:
        """Whether one tap confirms it: sure, of a model that we know, and once on this walk."""
        sure = self.reading.outcome == PlateReading.Outcome.SURE
        return sure and self.catalogued is not None and not self.twins


def walk_rows(walk: PlateWalk) -> list[WalkRow]:
    """A walk's photos as they were sent. Three queries."""
    readings = readings_of(walk)
    said = {reading.pk: reading.read for reading in readings}
    facts, twins = _facts_of(said.values()), twins_among(readings)
    places = {reading.pk: at for at, reading in enumerate(readings, 1)}
    others = {
        one.pk: [places[two.pk] for two in same if two != one]
        for same in twins.values()
        for one in same
    }
    return [
        WalkRow(
            place=places[reading.pk],
            reading=reading,
            proposal=said[reading.pk],
            known_unit=facts.known(said[reading.pk]),
            catalogued=facts.catalogued(said[reading.pk]),
            twins=others.get(reading.pk, []),
        )
        for reading in readings
    ]


def walk_row(reading: PlateReading) -> WalkRow:
    """The row of one photo of a walk. Four queries."""
    return next(row for row in walk_rows(reading.walk) if row.reading == reading)


@dataclass(frozen=True)
class _Facts:
    """Machines and models that some photos seem to show, by their keys."""

    units: dict[str, list[Unit]]
    models: dict[tuple[str, str], MachineModel]

    def known(self, proposal: Proposal | None) -> Unit | None:
        """The machine of the maker and serial that were read."""
        maker = _key(proposal, FieldName.MAKER)
        return next((unit for unit in self._same(proposal) if unit.maker.key == maker), None)

    def others(self, proposal: Proposal | None) -> list[Unit]:
        """Machines of other makers with the serial that was read."""
        maker = _key(proposal, FieldName.MAKER)
        return [unit for unit in self._same(proposal) if unit.maker.key != maker]

    def catalogued(self, proposal: Proposal | None) -> MachineModel | None:
        names = _key(proposal, FieldName.MAKER), _key(proposal, FieldName.MODEL)
        model = self.models.get(names)
        return model.current if model else None

    def _same(self, proposal: Proposal | None) -> list[Unit]:
        return self.units.get(_key(proposal, FieldName.SERIAL), [])


def _facts_of(proposals: Iterable[Proposal | None]) -> _Facts:
    """Two queries, however many proposals."""
    proposals = list(proposals)
    serials = {_key(proposal, FieldName.SERIAL) for proposal in proposals} - {""}
    numbers = {_key(proposal, FieldName.MODEL) for proposal in proposals} - {""}
    units: dict[str, list[Unit]] = {}
    for unit in Unit.objects.with_identity().filter(serial_key__in=serials):
        units.setdefault(unit.serial_key, []).append(unit)
    models = MachineModel.objects.select_related("maker", "kind", "merged_into__maker")
    by_name = {(one.maker.key, one.key): one for one in models.filter(key__in=numbers)}
    return _Facts(units, by_name)


def _key(proposal: Proposal | None, name: FieldName) -> str:
    return match_key(proposal.text_of(name)) if proposal else ""


def twins_among(readings: Iterable[PlateReading]) -> dict[str, list[PlateReading]]:
    """Readings that propose one maker and serial, by that key: one machine sent twice, perhaps."""
    by_key: dict[str, list[PlateReading]] = {}
    for reading in readings:
        proposal = reading.read
        if serial := _key(proposal, FieldName.SERIAL):
            key = f"{_key(proposal, FieldName.MAKER)} {serial}"
            by_key.setdefault(key, []).append(reading)
    return {key: twins for key, twins in by_key.items() if len(twins) > 1}
