from datetime import datetime

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils.translation import gettext as _

from shop.floor.models import Stay
from shop.people.models import Customer
from shop.work.models import JobInspection, WorkOrder
from shop.work.services.bench import Bench
from shop.work.services.errors import JobError
from units.inspections.domain.scope import BENCH, CLUB, HOME, Work
from units.inspections.models import Inspection, Population, Protocol
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
        work=work_of(job) if occasion == Protocol.Occasion.FINAL else None,
        by=by,
        at=at,
    )
    JobInspection.objects.get_or_create(inspection=inspection, defaults={"job": job})
    return inspection


def population_of(job: WorkOrder) -> str:
    """Where a job's machine comes from: a bought one has worn otherwise than a broken one."""
    bought = job.stay is not None and job.stay.came == Stay.Came.PURCHASE
    return Population.PRIVATE if bought else Population.REPAIR


def work_of(job: WorkOrder) -> Work:
    """What bounds a job's final test: our own machines are tested whole, for they are sold."""
    return Work(
        components=Bench(job).components_worked_on,
        place=place_of(job),
        full=job.purpose == WorkOrder.Purpose.OWN,
    )


def place_of(job: WorkOrder) -> str:
    """Where a job's machine is: with us while it stays here, else at its owner's."""
    if job.stay_id or not job.place_id:
        return BENCH
    return CLUB if job.place.customer.sort == Customer.Sort.COMPANY else HOME
