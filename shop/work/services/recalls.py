"""A customer is told of an open recall on his machine before it leaves."""

from datetime import datetime

from django.contrib.auth.models import AbstractBaseUser
from django.utils.translation import gettext as _

from shop.work.models import RecallTold, WorkOrder
from shop.work.selectors.recalls import open_recalls
from shop.work.services.errors import JobError


def tell_recalls(
    *, job: WorkOrder, how: str, told_to: str = "", by: AbstractBaseUser, at: datetime
) -> list[RecallTold]:
    """Write down that the customer was told of each recall he was not told of yet, the owner if
    nobody else is named. An empty ``how`` says that nobody has told him.

    Raises JobError naming them when nobody has told him.
    """
    known = set(job.recalls_told.values_list("recall", flat=True))
    new = [one for one in open_recalls(job.unit) if one not in known]
    if new and not how:
        raise JobError(
            _("A recall on this machine is open; the customer has to be told: %(recalls)s.")
            % {"recalls": ", ".join(new)}
        )
    return [
        RecallTold.objects.create(
            job=job,
            recall=recall,
            told_to=(told_to or str(job.owner))[:120],
            how=how,
            told_at=at,
            told_by=by,
        )
        for recall in new
    ]
