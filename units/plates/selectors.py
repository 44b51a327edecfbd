from collections.abc import Iterable

from django.db.models import OuterRef, Subquery

from units.catalogue.models import Unit
from units.plates.models import PlateRecord


def newest_plates(units: Iterable[Unit]) -> dict[int, PlateRecord]:
    """The newest reading of each machine's plate, by the machine's id. One query."""
    newest = PlateRecord.objects.filter(unit=OuterRef("unit")).order_by("-confirmed_at", "-id")
    records = PlateRecord.objects.filter(
        unit__in=[unit.pk for unit in units], pk=Subquery(newest.values("pk")[:1])
    )
    return {record.unit_id: record for record in records.select_related("photo", "confirmed_by")}
