"""What became of the components that a job worked on, for the odds that are learnt from it."""

from datetime import datetime

from django.contrib.auth.models import AbstractBaseUser
from django.utils import timezone

from shop.work.selectors.inspections import population_of
from shop.work.services.bench import Bench
from units.inspections.models import ComponentOutcome
from units.inspections.services.outcomes import Look, record_outcomes

Fate = ComponentOutcome.Fate


def record_done(*, bench: Bench, repaired: bool, by: AbstractBaseUser, at: datetime) -> None:
    """A part that was used replaced its component, however the job ended; other work that was
    carried out put its component right only if the machine is repaired."""
    job = bench.job
    used = {use.move.part.component_id for use in bench.uses if not use.put_back}
    fates = dict.fromkeys(used, Fate.REPLACED)
    if repaired:
        fates |= dict.fromkeys(bench.components_worked_on - used, Fate.SERVICED)
    look = Look(
        unit=job.unit,
        known=ComponentOutcome.Known.WORK,
        document=job.number,
        population=population_of(job),
    )
    on = timezone.localdate(at)
    record_outcomes(look=look, fates=fates, on=on, by=by, at=at)
