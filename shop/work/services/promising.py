"""A day is promised for a job, the job given to a technician; the hours of the bench are set."""

from datetime import date, datetime

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from shop.people.seats import TECHNICIAN, seats_of
from shop.work.models import Assignment, BenchHours, Promise, WorkOrder
from shop.work.services.errors import JobError
from shop.work.services.steps import as_it_stands, lock_job, name_of
from units.show.words import day

A_WEEK = 7 * 24 * 60


@transaction.atomic
def promise_day(
    *, job: WorkOrder, promised_on: date, why: str = "", by: AbstractBaseUser, at: datetime
) -> Promise:
    """Promise a day for a job; an earlier promise stays written down. Raises JobError."""
    job = lock_job(job)
    if job.is_over:
        raise JobError(as_it_stands(job))
    if promised_on < timezone.localdate(at):
        raise JobError(_("This day has passed. Promise one that is still to come."))
    if job.promised_on and promised_on > job.promised_on and not why.strip():
        raise JobError(
            _("%(day)s was promised before. Say why it becomes later.")
            % {"day": day(job.promised_on)}
        )
    job.promised_on = promised_on
    job.save(update_fields=["promised_on"])
    return Promise.objects.create(
        job=job, promised_on=promised_on, why=why.strip(), made_at=at, made_by=by
    )


@transaction.atomic
def assign_job(
    *, job: WorkOrder, technician: AbstractBaseUser | None, by: AbstractBaseUser, at: datetime
) -> WorkOrder:
    """Give a job to a technician, whose week it takes from now on, or back to the bench.

    Raises JobError for a job that is over, or for a person who sits at no bench.
    """
    job = lock_job(job)
    if job.is_over:
        raise JobError(as_it_stands(job))
    if technician is not None and TECHNICIAN not in seats_of(technician):
        raise JobError(_("%(person)s does not sit at the bench.") % {"person": name_of(technician)})
    if job.technician_id == (technician and technician.pk):
        return job
    job.technician = technician
    job.save(update_fields=["technician"])
    Assignment.objects.create(job=job, technician=technician, made_at=at, made_by=by)
    return job


def set_bench_hours(
    *, technician: AbstractBaseUser, minutes_a_week: int, from_on: date
) -> BenchHours:
    """The minutes a week from a day on; a second row for a day takes the first one's place."""
    if not 0 <= minutes_a_week <= A_WEEK:
        raise JobError(_("A week has 168 hours."))
    return BenchHours.objects.update_or_create(
        technician=technician, from_on=from_on, defaults={"minutes_a_week": minutes_a_week}
    )[0]
