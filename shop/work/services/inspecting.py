from datetime import datetime

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.db.models import Exists, OuterRef
from django.utils.translation import gettext as _

from shop.people.models import Customer
from shop.work.models import JobInspection, WorkOrder
from shop.work.selectors.inspections import newest_of, population_of
from shop.work.services.bench import Bench
from shop.work.services.errors import JobError
from units.inspections.domain.scope import BENCH, CLUB, HOME, Work, scope_of
from units.inspections.models import Inspection, Protocol
from units.inspections.services import open_inspection


@transaction.atomic
def inspect_job(*, job: WorkOrder, occasion: str, by: AbstractBaseUser, at: datetime) -> Inspection:
    """Open the inspection of a job's machine for an occasion, or go on with the open one.

    A final test asks for what the work, the kind and the place ask for.
    """
    job = WorkOrder.objects.select_for_update().get(pk=job.pk)
    if job.is_over:
        raise JobError(_("This job is over; nothing is inspected for it any more."))
    if job.unit is None:
        raise JobError(_("Nobody has seen this machine yet. Name its model and serial first."))
    inspection = open_inspection(
        unit=job.unit,
        occasion=occasion,
        document=job.number,
        population=population_of(job),
        work=work_of(Bench(job)) if occasion == Protocol.Occasion.FINAL else None,
        by=by,
        at=at,
    )
    JobInspection.objects.get_or_create(inspection=inspection, defaults={"job": job})
    return inspection


def work_of(bench: Bench) -> Work:
    """What bounds a job's final test: our own machines are tested whole, for they are sold."""
    return Work(
        components=bench.components_worked_on,
        place=place_of(bench.job),
        full=bench.job.purpose == WorkOrder.Purpose.OWN,
    )


def untested(bench: Bench) -> list[str]:
    """What the newest final test was not asked, and the work as it is agreed now asks for.

    More may be agreed to after the test, without a part or a minute that would outdate it.
    """
    link = newest_of(bench.inspections, Protocol.Occasion.FINAL)
    if link is None or link.inspection.asked is None:
        return []
    test = link.inspection
    answered = Exists(test.results.filter(step=OuterRef("pk")))
    steps = list(test.protocol.steps.annotate(answered=answered))
    wanted = scope_of(steps, {}, work_of(bench)).keys
    left_out = [step for step in steps if step.key not in test.asked and not step.answered]
    if wanted is not None:
        left_out = [step for step in left_out if step.key in wanted]
    return list(dict.fromkeys(_(step.title) for step in left_out))


def place_of(job: WorkOrder) -> str:
    """Where a job's machine is: with us while it stays here, else at its owner's."""
    if job.stay_id or not job.place_id:
        return BENCH
    return CLUB if job.place.customer.sort == Customer.Sort.COMPANY else HOME
