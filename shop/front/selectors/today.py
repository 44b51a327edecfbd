"""What a technician's device keeps for today, to be read without a signal."""

from django.urls import reverse

from shop.people.seats import TECHNICIAN
from shop.work.selectors.waiting import waiting_jobs
from units.inspections.models import Inspection
from units.inspections.selectors import first_positions

MOST_JOBS = 25


def pages_of_today() -> list[str]:
    """Addresses, open inspections first, then jobs on the bench with their model and machine.

    The longest waiting come first, ``MOST_JOBS`` of them; ten queries.
    """
    waiting = [one.job for one in waiting_jobs() if one.seat == TECHNICIAN][:MOST_JOBS]
    numbers = [job.number for job in waiting]
    opened = first_positions(Inspection.objects.unfinished().filter(document__in=numbers))
    pages = [reverse("inspection-step", args=place) for place in opened.items()]
    pages += [reverse("job", args=[number]) for number in numbers]
    machines = [job.unit for job in waiting if job.unit]
    models = [unit.model.merged_into_id or unit.model_id for unit in machines]
    pages += [reverse("model", args=[pk]) for pk in models]
    pages += [reverse("machine", args=[unit.pk]) for unit in machines]
    return list(dict.fromkeys(pages))
