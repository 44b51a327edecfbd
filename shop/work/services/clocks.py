"""A technician's clock: started on one page, stopped on any other, browser closed or not."""

from datetime import datetime
from uuid import UUID

from django.contrib.auth.models import AbstractBaseUser
from django.db import IntegrityError, transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from shop.people.seats import OWNER, seats_of
from shop.work.domain.clock import is_forgotten, worked_minutes
from shop.work.models import Clock, WorkOrder
from shop.work.selectors.clocks import running_clock
from shop.work.services.errors import ForgottenClockError, JobError
from shop.work.services.labour import add_time
from shop.work.services.steps import as_it_stands, lock_job, name_of
from units.show.words import minutes as written
from units.show.words import moment


def start_clock(*, job: WorkOrder, key: UUID, by: AbstractBaseUser, at: datetime) -> Clock:
    """Start a technician's own clock on a job. The same key gives the first clock again.

    Raises JobError, naming the job on which another clock of his runs.
    """
    try:
        with transaction.atomic():
            return _start_once(job, key, by, at)
    except IntegrityError:
        # Two presses at once: the quicker one started it.
        if clock := running_clock(by):
            return _same_or_refused(clock, key)
        raise


def _start_once(job: WorkOrder, key: UUID, by, at: datetime) -> Clock:
    job = lock_job(job)
    if clock := Clock.objects.filter(key=key).first():
        return clock
    if clock := running_clock(by):
        return _same_or_refused(clock, key)
    if job.is_over:
        raise JobError(as_it_stands(job))
    return Clock.objects.create(job=job, key=key, technician=by, started_at=at)


def _same_or_refused(clock: Clock, key: UUID) -> Clock:
    if clock.key == key:
        return clock
    raise JobError(
        _("Your clock runs on job %(job)s since %(moment)s. Stop it first.")
        % {"job": clock.job.number, "moment": moment(clock.started_at)},
        job=clock.job,
    )


@transaction.atomic
def stop_clock(
    *,
    clock: Clock,
    minutes: int | None = None,
    note: str = "",
    by: AbstractBaseUser,
    at: datetime,
) -> Clock:
    """Stop a clock and write its time; ``minutes`` instead where it ran on unattended, 0 for none.

    Raises ForgottenClockError when it ran so long that a person has to say the minutes; JobError
    when it is stopped already, saying when, or is another's.
    """
    clock = Clock.objects.select_for_update(of=("self",)).select_related("job").get(pk=clock.pk)
    _require_stoppable(clock, by)
    if minutes is None:
        minutes = _minutes_run(clock, at)
    elif minutes > worked_minutes(clock.started_at, at):
        raise JobError(
            _("The clock was started %(moment)s: it cannot have been that long.")
            % {"moment": moment(clock.started_at)}
        )
    if minutes:
        clock.entry = add_time(
            job=clock.job,
            minutes=minutes,
            worked_on=timezone.localdate(clock.started_at),
            note=note,
            key=clock.key,
            by=clock.technician,
            at=at,
        )
    clock.stopped_at = at
    clock.save(update_fields=["stopped_at", "entry"])
    return clock


def _require_stoppable(clock: Clock, by: AbstractBaseUser) -> None:
    if clock.stopped_at:
        time = written(clock.entry.minutes) if clock.entry else _("no time")
        raise JobError(
            _("This clock was stopped %(moment)s and wrote %(time)s. Nothing was changed now.")
            % {"moment": moment(clock.stopped_at), "time": time}
        )
    if clock.technician_id != by.pk and OWNER not in seats_of(by):
        raise JobError(
            _("This is the clock of %(person)s; he or the owner stops it.")
            % {"person": name_of(clock.technician)}
        )


def _minutes_run(clock: Clock, at: datetime) -> int:
    if is_forgotten(clock.started_at, at):
        raise ForgottenClockError(
            _("This clock has run since %(moment)s. Say how many minutes were worked.")
            % {"moment": moment(clock.started_at)}
        )
    return worked_minutes(clock.started_at, at)
