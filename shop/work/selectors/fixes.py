"""What was done before about machines of a model."""

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Collection
from datetime import date

from django.utils import timezone

from shop.work.domain.fixes import Fix, SymptomRecord, by_symptom, symptoms
from shop.work.models import Step, WorkOrder
from units.inspections.models import ComponentOutcome

MOST = 400  # closed jobs looked back at, the newest first


def past_fixes(models: Collection[int], on: date) -> list[SymptomRecord]:
    """Closed jobs on machines of a model's names (their ids), by what the customer complained of.

    Three queries.
    """
    closings = Step.objects.filter(
        to_state=WorkOrder.State.CLOSED,
        job__unit__model__in=models,
        job__state__in=[WorkOrder.State.CLOSED, WorkOrder.State.HANDED_BACK],
    )
    closings = list(closings.select_related("job").order_by("-taken_at", "-pk")[:MOST])
    jobs = [step.job for step in closings]
    done, came = _done(jobs), _arrivals(jobs)
    fixes = [
        Fix(
            number=step.job.number,
            complaint=step.job.complaint,
            outcome=step.job.outcome,
            closed_on=timezone.localdate(step.taken_at),
            done=done[step.job.number],
            back_on=_next(came[step.job.unit_id], step),
        )
        for step in closings
    ]
    return by_symptom(fixes, symptoms(), on)


def _done(jobs) -> dict[str, tuple[tuple[str, str], ...]]:
    """``{job's number: (component's name, fate) pairs}``."""
    rows = ComponentOutcome.objects.filter(
        document__in=[job.number for job in jobs], known=ComponentOutcome.Known.WORK
    )
    pairs = defaultdict(tuple)
    for number, name, fate in rows.values_list("document", "component__name", "fate"):
        pairs[number] += ((name, fate),)
    return pairs


def _arrivals(jobs) -> dict[int, list]:
    """``{machine's id: (moment, day) of every job opened on it, in order}``."""
    others = WorkOrder.objects.filter(unit__in={job.unit_id for job in jobs})
    others = others.exclude(state=WorkOrder.State.CANCELLED).order_by("opened_at", "pk")
    came = defaultdict(list)
    for unit, at, day in others.values_list("unit", "opened_at", "opened_on"):
        came[unit].append((at, day))
    return came


def _next(arrivals, step: Step) -> date | None:
    """The day of the first job that was opened on the machine after this one was closed."""
    place = bisect_left(arrivals, step.taken_at, key=lambda arrival: arrival[0])
    return arrivals[place][1] if place < len(arrivals) else None
