import uuid
from datetime import datetime

from django.db import transaction
from django.utils.translation import gettext as _

from units.catalogue.models import Unit
from units.inspections.domain.measures.outcome import Outcome, Tool, kept
from units.inspections.models import Inspection, MeasureReading, ReadingWithdrawal
from units.inspections.services.errors import InspectionError

MOST = 1_000_000


@transaction.atomic
def record_reading(
    *,
    unit: Unit,
    inspection: Inspection | None = None,
    tool: Tool,
    outcome: Outcome,
    inputs: dict,
    is_baseline: bool = False,
    note: str = "",
    key: uuid.UUID,
    by,
    at: datetime,
) -> MeasureReading:
    """Keep a tool's main figure with a machine; the same key again gives the first reading."""
    Unit.objects.select_for_update().get(pk=unit.pk)
    written = MeasureReading.objects.filter(key=key).first()
    if written:
        return written
    _check_place(unit, inspection)
    value, uncertainty, measure = kept(outcome.main)
    if max(abs(value), uncertainty) >= MOST:
        raise InspectionError(_("No machine gives so much. Look at what was written down."))
    return MeasureReading.objects.create(
        unit=unit,
        inspection=inspection,
        tool=tool.slug,
        name=tool.name,
        value=value,
        uncertainty=uncertainty,
        measure=measure,
        inputs=inputs,
        speed=None if outcome.speed is None else round(outcome.speed, 4),
        walker=None if outcome.walker is None else round(outcome.walker, 2),
        is_baseline=is_baseline,
        note=note,
        key=key,
        taken_at=at,
        taken_by=by,
    )


def _check_place(unit: Unit, inspection: Inspection | None) -> None:
    if inspection is None:
        return
    if inspection.unit_id != unit.pk:
        raise InspectionError(_("This inspection is of another machine. Open the tool from it."))
    if Inspection.objects.select_for_update().get(pk=inspection.pk).is_finished:
        raise InspectionError(
            _(
                "This inspection is finished and does not change any more. Open the tool from the"
                " machine’s page, and the reading is kept with the machine."
            )
        )


@transaction.atomic
def withdraw_reading(
    *, reading: MeasureReading, reason: str, by, at: datetime
) -> ReadingWithdrawal:
    """Let a reading count no more; it stays to be read."""
    reading = MeasureReading.objects.select_for_update().get(pk=reading.pk)
    if not reason.strip():
        raise InspectionError(_("Say why the reading does not count."))
    if ReadingWithdrawal.objects.filter(reading=reading).exists():
        raise InspectionError(_("This reading is withdrawn already."))
    return ReadingWithdrawal.objects.create(
        reading=reading, reason=reason.strip(), withdrawn_at=at, withdrawn_by=by
    )
