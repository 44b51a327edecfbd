from datetime import datetime

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils.translation import gettext as _

from shop.work.models import JobInspection, WorkOrder
from shop.work.services.errors import JobError
from units.inspections.models import Inspection
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
        unit=job.unit, occasion=occasion, document=job.number, by=by, at=at
    )
    JobInspection.objects.get_or_create(inspection=inspection, defaults={"job": job})
    return inspection
