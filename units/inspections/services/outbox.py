"""Take what waited on a phone: each entry once, by the id that the phone gave it."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from uuid import UUID

from django.db import transaction
from django.utils.translation import gettext as _

from units.inspections.models import Inspection, OutboxEntry, ProtocolStep
from units.inspections.services.errors import InspectionError, NotYoursError
from units.inspections.services.inspecting import finish_inspection, record_step
from units.show.words import moment, person


@dataclass(frozen=True)
class Entry:
    """An entry's envelope: ``owner`` is the id of whoever answered, ``device_at`` the phone's
    clock at that moment and ``sent_at`` the same clock when it was sent."""

    key: UUID
    owner: int
    inspection: Inspection
    device_at: datetime
    sent_at: datetime | None = None

    def answered_at(self, at: datetime) -> datetime:
        """When it was answered by the shop's clock, which says ``at``: a phone's may be wrong."""
        if self.sent_at is None:
            return self.device_at
        return at - max(self.sent_at - self.device_at, timedelta(0))


@transaction.atomic
def take_answer(*, entry: Entry, step: ProtocolStep, by, at: datetime, **answer) -> bool:
    """Record an answer as ``record_step`` does; False when it was had already."""
    if not _is_new(entry, by):
        return False
    _refuse_older(entry, step, by, at)
    record_step(inspection=entry.inspection, step=step, by=by, at=at, **answer)
    _write_down(entry, step, by, at)
    return True


@transaction.atomic
def take_finish(*, entry: Entry, by, at: datetime) -> bool:
    """Finish the inspection; False when this entry did so already."""
    if not _is_new(entry, by):
        return False
    finish_inspection(inspection=entry.inspection, by=by, at=at)
    _write_down(entry, None, by, at)
    return True


def _is_new(entry: Entry, by) -> bool:
    """Whether nothing came under this id yet. Holds the inspection, so that of two requests with
    one id the second finds what the first wrote."""
    if entry.owner != by.pk:
        raise NotYoursError(
            _("Somebody else answered this. It is sent when that person signs in here.")
        )
    Inspection.objects.select_for_update().get(pk=entry.inspection.pk)
    had = OutboxEntry.objects.filter(client_key=entry.key).first()
    if had and (had.recorded_by_id, had.inspection_id) != (by.pk, entry.inspection.pk):
        raise InspectionError(_("Something else came under this id. Answer the step once more."))
    return had is None


def _refuse_older(entry: Entry, step: ProtocolStep, by, at: datetime) -> None:
    """What waited long on one phone does not undo what somebody else has found since."""
    newer = entry.inspection.results.filter(step=step, recorded_at__gt=entry.answered_at(at))
    standing = newer.exclude(recorded_by=by).select_related("recorded_by").first()
    if standing:
        raise InspectionError(
            _(
                "%(person)s answered this step after you, %(moment)s, so yours was not written over"
                " it. Look at the step again and answer it, or set yours aside."
            )
            % {"person": person(standing.recorded_by), "moment": moment(standing.recorded_at)}
        )


def _write_down(entry: Entry, step: ProtocolStep | None, by, at: datetime) -> None:
    OutboxEntry.objects.create(
        client_key=entry.key,
        inspection=entry.inspection,
        step=step,
        device_at=entry.device_at,
        received_at=at,
        recorded_by=by,
    )
