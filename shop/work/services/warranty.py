"""A repair comes back under our own warranty: a job of its own, free but costed."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from parts.days.services import require_open
from shop.people.seats import OWNER, seats_of
from shop.till.models import LineClass
from shop.work.domain.warranty import Owed
from shop.work.models import CameAlong, Estimate, EstimateLine, WarrantyTerm, WorkOrder
from shop.work.selectors.warranty import standing_of
from shop.work.services.errors import JobError
from shop.work.services.intake import open_job, refuse_second_job, take_stay
from shop.work.services.steps import as_it_stands, lock_job
from units.show.words import day


@dataclass(frozen=True)
class CameBack:
    """What the customer says, what came along, and why we stand for it if no term runs."""

    complaint: str
    came_along: Sequence[str] = ()
    arrival_note: str = ""
    goodwill: str = ""


@transaction.atomic
def open_warranty_job(
    *, first: WorkOrder, back: CameBack, key: UUID, by: AbstractBaseUser, at: datetime
) -> WorkOrder:
    """Open the free job for a repair that failed. The same key gives the first again.

    Raises JobError when nothing is owed any more; the owner may stand for it with a reason.
    """
    first = lock_job(first)
    if job := WorkOrder.objects.filter(key=key).first():
        return job
    on = timezone.localdate(at)
    require_open(on)
    _require_owed(first, back.goodwill, on, by)
    refuse_second_job(first.unit)
    job = WorkOrder(
        key=key,
        purpose=WorkOrder.Purpose.WARRANTY,
        warranty_of=first,
        unit=first.unit,
        stay=take_stay(first.unit, first.owner, on, by),
        owner=first.owner,
        complaint=back.complaint,
        arrival_note=back.arrival_note,
    )
    job = open_job(job, by, at, note=back.goodwill.strip())
    CameAlong.objects.bulk_create(CameAlong(job=job, thing=thing) for thing in back.came_along)
    return job


def _require_owed(first: WorkOrder, goodwill: str, on: date, by: AbstractBaseUser) -> None:
    if first.purpose == WorkOrder.Purpose.OWN or first.unit is None:
        raise JobError(_("Only the repair of a customer's machine has a warranty of ours."))
    if first.state != WorkOrder.State.HANDED_BACK:
        raise JobError(as_it_stands(first))
    standing = standing_of(first)
    if standing and standing.running(on):
        return
    if goodwill.strip() and OWNER in seats_of(by):
        return
    ended = day(standing.until) if standing else _("never began: nothing was put right")
    raise JobError(
        _(
            "Our warranty on job %(job)s is over (%(ended)s). The owner may still stand for it,"
            " with a reason; else log the machine in as a new job. Local law may give more."
        )
        % {"job": first.number, "ended": ended}
    )


def require_covered(job: WorkOrder, estimate: Estimate, by: AbstractBaseUser) -> None:
    """Refuse to do under our warranty, free of charge, what the first repair is not owed.

    The owner may: by his own offer, or by the reason with which he opened the job.
    """
    if job.purpose != WorkOrder.Purpose.WARRANTY or OWNER in seats_of(by):
        return
    if job.steps.filter(from_state="").exclude(note="").exists():
        return
    standing = standing_of(job.warranty_of)
    owed = {one.component: one for one in standing.owed} if standing else {}
    beyond = [
        line.description
        for line in estimate.lines.select_related("component")
        if line.line_class in {LineClass.PART, LineClass.LABOUR}
        and not _is_covered(line, owed, job.opened_on)
    ]
    if beyond:
        raise JobError(
            _(
                "Our warranty on job %(job)s does not owe this: %(lines)s. Drop it, or let the"
                " owner offer it as a favour; what the customer pays for is a job of its own."
            )
            % {"job": job.warranty_of.number, "lines": "; ".join(beyond)}
        )


def _is_covered(line: EstimateLine, owed: dict[str, Owed], on: date) -> bool:
    one = owed.get(line.component.name) if line.component else None
    return one is not None and one.covers(line.line_class == LineClass.PART, on)


def set_warranty_term(
    *, work: str, parts_days: int, labour_days: int, from_on: date
) -> WarrantyTerm:
    """What we stand for from a day on; a second one for a day takes the first one's place."""
    if work == WarrantyTerm.Work.SERVICED and parts_days:
        raise JobError(_("Cleaning and adjusting bring no part to stand for: leave it at 0."))
    return WarrantyTerm.objects.update_or_create(
        work=work,
        from_on=from_on,
        defaults={"parts_days": parts_days, "labour_days": labour_days},
    )[0]
