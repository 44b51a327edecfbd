from datetime import datetime

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils.translation import gettext as _

from shop.floor.models import Stay
from shop.work.models import JobInspection, WorkOrder
from shop.work.services.errors import JobError
from units.inspections.models import Inspection, Population
from units.inspections.services import open_inspection

OVER = {WorkOrder.State.CLOSED, WorkOrder.State.HANDED_BACK, WorkOrder.State.CANCELLED}


@transaction.atomic
def inspect_job(*, job: WorkOrder, occasion: str, by: AbstractBaseUser, at: datetime) -> Inspection:
    """Open the inspection of a job's machine for an occasion, or go on with the open one."""
    job = WorkOrder.objects.select_for_update().get(pk=job.pk)
    if job.state in OVER:
        raise JobError(_("This job is over; nothing is inspected for it any more."))
    if job.unit is None:
        raise JobError(_("Nobody has seen this machine yet. Name its model and serial first."))
    inspection = open_inspection(
        unit=job.unit,
        occasion=occasion,
        document=job.number,
        population=population_of(job),
        by=by,
        at=at,
    )
    JobInspection.objects.get_or_create(inspection=inspection, defaults={"job": job})
    return inspection


def population_of(job: WorkOrder) -> str:
    """Where a job's machine comes from: a bought one has worn otherwise than a broken one."""
    bought = job.stay is not None and job.stay.came == Stay.Came.PURCHASE
    return Population.PRIVATE if bought else Population.REPAIR
