from datetime import date, datetime
from uuid import UUID

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from parts.days.services import require_open
from shop.floor.models import MachineCost
from shop.floor.services import add_cost
from shop.people.seats import TECHNICIAN, seats_of
from shop.till.domain.pricing import labour_cost
from shop.till.selectors import price_rules
from shop.work.domain.states import START
from shop.work.models import TimeEntry, WorkOrder
from shop.work.services.errors import JobError
from shop.work.services.promising import assign_job
from shop.work.services.steps import as_it_stands, lock_job, take_step
from units.show.words import day

A_DAY = 24 * 60


@transaction.atomic
def start_work(*, job: WorkOrder, by: AbstractBaseUser, at: datetime) -> WorkOrder:
    """A job that was given to nobody is his who starts it, if he sits at the bench."""
    job = take_step(job=job, deed=START, by=by, at=at)
    if job.technician_id is None and TECHNICIAN in seats_of(by):
        job = assign_job(job=job, technician=by, by=by, at=at)
    return job


@transaction.atomic
def add_time(
    *,
    job: WorkOrder,
    minutes: int,
    worked_on: date,
    note: str = "",
    key: UUID,
    by: AbstractBaseUser,
    at: datetime,
) -> TimeEntry:
    """Write a technician's own time on a job. The same key gives the first entry again.

    Finding the cause counts too, so time may be written before there is a yes. Time written after
    the final test is work after it: the machine is tested again. Time that outgrows the yes is
    still written, as it was worked; closing then asks for a new yes.
    """
    job = lock_job(job)
    if entry := TimeEntry.objects.filter(key=key).first():
        return entry
    if not job.is_open or job.state == WorkOrder.State.CLOSED:
        raise JobError(as_it_stands(job))
    _require_likely(job, minutes, worked_on, timezone.localdate(at))
    require_open(worked_on)
    entry = TimeEntry.objects.create(
        job=job,
        key=key,
        technician=by,
        worked_on=worked_on,
        minutes=minutes,
        note=note,
        cost=labour_cost(minutes, price_rules(worked_on)),
        recorded_at=at,
    )
    if job.purpose == WorkOrder.Purpose.OWN and entry.cost:
        add_cost(
            stay=job.stay,
            sort=MachineCost.Sort.LABOUR,
            amount=entry.cost,
            on=worked_on,
            document=job.number,
            key=f"time {key}",
            by=by,
            at=at,
        )
    return entry


def _require_likely(job: WorkOrder, minutes: int, worked_on: date, today: date) -> None:
    if not 0 < minutes <= A_DAY:
        raise JobError(_("Write between 1 minute and a whole day."))
    if worked_on > today:
        raise JobError(_("This day is still to come. Write the day the work was done."))
    if worked_on < job.opened_on:
        raise JobError(
            _("The job was opened on %(day)s; work on it cannot be older.")
            % {"day": day(job.opened_on)}
        )
