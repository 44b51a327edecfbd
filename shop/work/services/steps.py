from collections.abc import Collection
from datetime import datetime

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils.translation import gettext as _

from shop.people.seats import SEATS, seats_of
from shop.work.domain.states import Way, deeds_of, way_of
from shop.work.models import Clock, PartUse, Step, WorkOrder
from shop.work.services.errors import JobError
from units.show import words
from units.show.words import moment


def lock_job(job: WorkOrder) -> WorkOrder:
    """The job as it is now, held until the transaction ends: whatever a page showed is old."""
    return WorkOrder.objects.select_for_update().get(pk=job.pk)


class UncheckedStepError(RuntimeError):
    """A service moves a job without having looked at what the table asks for: a defect."""


@transaction.atomic
def take_step(
    *,
    job: WorkOrder,
    deed: str,
    checked: Collection[str] = (),
    note: str = "",
    outcome: str = "",
    by: AbstractBaseUser,
    at: datetime,
) -> WorkOrder:
    """Change a job's state by a deed: the only place that does. Returns the job as it is then.

    ``checked`` are the conditions that the service has found met: all of the way's, or it is a
    defect. Raises JobError, naming who last changed the job and when, if the table of states has
    no such way from where it stands now, or none for this seat.
    """
    job = lock_job(job)
    way = require_way(job, deed, outcome, by)
    if left := set(way.conditions) - set(checked):
        raise UncheckedStepError(f"{deed} from {job.state}: nobody looked at {sorted(left)}")
    Step.objects.create(
        job=job,
        from_state=job.state,
        to_state=way.to,
        deed=deed,
        note=note[:400],
        taken_at=at,
        taken_by=by,
    )
    job.state, job.state_since = way.to, at
    job.outcome = outcome or job.outcome
    job.save(update_fields=["state", "state_since", "outcome"])
    return job


def require_way(job: WorkOrder, deed: str, outcome: str, by: AbstractBaseUser) -> Way:
    """The way that a deed takes now. Raises JobError with the reason why there is none."""
    way = way_of(job.state, deed, job.purpose, outcome)
    if way is None:
        raise JobError(as_it_stands(job))
    if not way.seats & set(seats_of(by)):
        raise JobError(
            _("This is for another seat to decide: %(seats)s.")
            % {"seats": ", ".join(str(SEATS[seat]) for seat in SEATS if seat in way.seats)}
        )
    return way


def require_deed(job: WorkOrder, *deeds: str) -> None:
    """Refuse, saying how the job stands, unless it may now do one of these deeds."""
    if not deeds_of(job.state, job.purpose) & set(deeds):
        raise JobError(as_it_stands(job))


def require_given_up(job: WorkOrder) -> None:
    """Refuse to end a job uncharged while its parts are out or somebody's clock runs on it: a
    clock on a job that is over could write no time any more."""
    if PartUse.objects.filter(job=job, put_back=False).exists():
        raise JobError(_("Parts were taken for this job. Put them back first."))
    clock = Clock.objects.filter(job=job, stopped_at=None).select_related("technician").first()
    if clock:
        raise JobError(
            _("The clock of %(person)s runs on this job since %(moment)s. Stop it first.")
            % {"person": name_of(clock.technician), "moment": moment(clock.started_at)}
        )


def as_it_stands(job: WorkOrder) -> str:
    """What became of a job that a page showed otherwise: its state, who and when."""
    step = job.steps.select_related("taken_by").last()
    words = {"job": job.number, "state": job.get_state_display(), "moment": moment(job.state_since)}
    if step is None:
        return _("Job %(job)s is %(state)s since %(moment)s. Nothing was changed.") % words
    words["person"] = name_of(step.taken_by)
    return _("Job %(job)s is %(state)s: %(person)s, %(moment)s. Nothing was changed now.") % words


def name_of(person: AbstractBaseUser) -> str:
    return words.person(person)
