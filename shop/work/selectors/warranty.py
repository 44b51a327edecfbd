"""Who is owed what until when under our own warranty, and how often repairs failed again."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from django.db.models import Sum
from django.utils import timezone
from django.utils.translation import gettext as _

from shop.work.domain.warranty import Owed, Record, Repair, Return, Term, by_cause, by_model, owed
from shop.work.models import HandBack, PartUse, TimeEntry, WarrantyTerm, WorkOrder
from units.catalogue.models import MachineModel
from units.inspections.models import ComponentOutcome

LOOKED_BACK = timedelta(days=3660)  # no term is longer than a form lets it be
MOST = 2000


def done_of(jobs: Iterable[WorkOrder]) -> dict[str, list[tuple[str, str]]]:
    """``{job's number: (component's name, what was done)}``. One query."""
    rows = ComponentOutcome.objects.filter(
        document__in=[job.number for job in jobs], known=ComponentOutcome.Known.WORK
    )
    done = defaultdict(list)
    for number, component, fate in rows.values_list("document", "component__name", "fate"):
        done[number].append((component, fate))
    return done


@dataclass(frozen=True)
class Standing:
    """What a repair is owed: its job, since when, and each component with its last days."""

    job: WorkOrder
    from_on: date
    owed: list[Owed]

    @property
    def until(self) -> date:
        return max(one.until for one in self.owed)

    def running(self, on: date) -> list[Owed]:
        return [one for one in self.owed if one.runs(on)]


def standing_of(job: WorkOrder) -> Standing | None:
    """What a handed-back repair is owed by the terms of the day it went back. Four queries."""
    found = _standings(HandBack.objects.filter(job=job))
    return found[0] if found else None


def standing_on(on: date) -> list[Standing]:
    """Every repair for which we still stand on a day, the one that ends first at the top."""
    recent = HandBack.objects.filter(handed_at__date__gt=on - LOOKED_BACK)
    running = [one for one in _standings(recent) if one.running(on)]
    return sorted(running, key=lambda one: (one.until, one.job.number))


def _standings(backs) -> list[Standing]:
    backs = backs.filter(job__outcome=WorkOrder.Outcome.REPAIRED).select_related(
        "job__unit__model__maker", "job__owner"
    )
    backs = list(backs.order_by("-handed_at")[:MOST])
    done = done_of([back.job for back in backs])
    rows = list(WarrantyTerm.objects.order_by("from_on"))
    found = []
    for back in backs:
        on = timezone.localdate(back.handed_at)
        terms = {
            row.work: Term(row.parts_days, row.labour_days) for row in rows if row.from_on <= on
        }
        if what := owed(done[back.job.number], terms, on):
            found.append(Standing(back.job, on, what))
    return found


def costs_of(jobs: Sequence[WorkOrder]) -> dict[int, Decimal]:
    """``{job id: what its parts and its time cost us}``. Two queries."""
    ids = [job.pk for job in jobs]
    costs = dict.fromkeys(ids, Decimal(0))
    uses = PartUse.objects.filter(job__in=ids, put_back=False).order_by()
    for job, cost in uses.values_list("job").annotate(Sum("move__cost")):
        costs[job] -= cost
    times = TimeEntry.objects.filter(job__in=ids).order_by()
    for job, cost in times.values_list("job").annotate(Sum("cost")):
        costs[job] += cost
    return costs


@dataclass(frozen=True)
class Repeats:
    """``models``: (model, record), ``causes``: (component, repairs, for it, for something else)."""

    models: list[tuple[MachineModel, Record]]
    causes: list[tuple[str, int, int, int]]


def repeat_failures() -> Repeats:
    """Of all repairs of customers' machines: how many came back under warranty. Five queries."""
    repairs, models = _repairs()
    rows = [(models[pk], record) for pk, record in by_model(repairs).items()]
    rows.sort(key=lambda row: (-row[1].back, -row[1].repairs, str(row[0])))
    causes = [(_(one), *counts) for one, counts in by_cause(repairs).items()]
    causes.sort(key=lambda row: (-row[2], -row[1], row[0]))
    return Repeats(rows, causes)


def _repairs() -> tuple[list[Repair], dict[int, MachineModel]]:
    """The repairs, and their models under the names that they have now."""
    jobs = WorkOrder.objects.filter(
        outcome=WorkOrder.Outcome.REPAIRED,
        purpose=WorkOrder.Purpose.CUSTOMER,
        unit__isnull=False,
    )
    jobs = jobs.select_related("unit__model__maker", "unit__model__merged_into__maker")
    jobs = list(jobs.order_by("-opened_at")[:MOST])
    returns = list(WorkOrder.objects.filter(warranty_of__in=jobs).exclude(state="cancelled"))
    done, costs = done_of([*jobs, *returns]), costs_of(returns)
    of_job = defaultdict(list)
    for job in returns:
        of_job[job.warranty_of_id].append(Return(_components(done[job.number]), costs[job.pk]))
    known = {job.pk: job.unit.model.merged_into or job.unit.model for job in jobs}
    repairs = [
        Repair(known[job.pk].pk, _components(done[job.number]), tuple(of_job[job.pk]))
        for job in jobs
    ]
    return repairs, {model.pk: model for model in known.values()}


def _components(pairs) -> frozenset[str]:
    return frozenset(component for component, _work in pairs)
