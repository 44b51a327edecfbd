"""What was done before about machines of a model."""

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date

from django.utils import timezone
from django.utils.translation import gettext as _

from shop.work.domain.fixes import Fix, SymptomRecord, by_symptom, symptoms
from shop.work.models import Step, WorkOrder
from units.inspections.models import ComponentOutcome

NEWEST = 5  # jobs named under a symptom
MOST = 400  # closed jobs looked back at, the newest first


def fixes_in_words(models: Collection[int], on: date) -> list["FixesInWords"]:
    """What ``past_fixes`` tells, as a screen shows it. Three queries."""
    return [FixesInWords(record) for record in past_fixes(models, on)]


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


@dataclass(frozen=True)
class FixesInWords:
    """A record as a screen shows it: ``outcomes`` are (word, times), ``done`` (component, word,
    times)."""

    record: SymptomRecord

    @property
    def name(self) -> str:
        symptom = self.record.symptom
        return _(symptom.name) if symptom else _("something else")

    @property
    def outcomes(self) -> list[tuple[str, int]]:
        return [(WorkOrder.Outcome(one).label, times) for one, times in self.record.outcomes]

    @property
    def done(self) -> list[tuple[str, str, int]]:
        return [
            (_(name), ComponentOutcome.Fate(fate).label, times)
            for (name, fate), times in self.record.done
        ]

    @property
    def newest(self) -> Sequence[Fix]:
        return self.record.fixes[:NEWEST]

    @property
    def days(self) -> int:
        return symptoms().repeat_days


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
