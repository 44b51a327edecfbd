"""What a technician's device keeps for today, to be read without a signal."""

from django.urls import reverse

from shop.people.seats import TECHNICIAN
from shop.work.selectors.waiting import waiting_jobs
from units.binder.models import ModelFile
from units.inspections.models import Inspection
from units.inspections.selectors import first_positions

MOST_JOBS = 25
# What a model's page fetches after it stands.
LATER = ("past", "parts")


def pages_of_today() -> dict[str, list[str]]:
    """``pages`` and the ``parts`` that pages fetch after they stand, as addresses.

    Open inspections come first, then the jobs on the bench, longest waiting first and
    ``MOST_JOBS`` of them, with their models, machines and the models' papers; eleven queries.
    """
    waiting = [one.job for one in waiting_jobs() if one.seat == TECHNICIAN][:MOST_JOBS]
    numbers = [job.number for job in waiting]
    machines = [job.unit for job in waiting if job.unit]
    models = [unit.model.merged_into_id or unit.model_id for unit in machines]
    opened = first_positions(Inspection.objects.unfinished().filter(document__in=numbers))
    papers = ModelFile.objects.standing().filter(model__in=models)
    pages = [reverse("inspection-step", args=place) for place in opened.items()]
    pages += [reverse("job", args=[number]) for number in numbers]
    pages += [reverse("model", args=[pk]) for pk in models]
    pages += [reverse("machine", args=[unit.pk]) for unit in machines]
    pages += [reverse("file", args=[pk]) for pk in papers.values_list("file_id", flat=True)]
    parts = [f"{reverse('model', args=[pk])}?part={part}" for pk in models for part in LATER]
    return {"pages": list(dict.fromkeys(pages)), "parts": list(dict.fromkeys(parts))}
