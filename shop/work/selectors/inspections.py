"""The inspections of jobs, and how a final test stands: asked here, told everywhere."""

from collections.abc import Sequence

from django.db.models import Exists, OuterRef, QuerySet

from shop.floor.models import Stay
from shop.work.domain.closing import FinalTest
from shop.work.models import JobInspection, PartUse, TimeEntry, WorkOrder
from units.inspections.models import Population, StepResult


def job_inspections() -> QuerySet[JobInspection]:
    """Inspections made for jobs, newest first, each with whether it is ``failed`` as a final test
    and whether it is ``outdated``: a part or time was written after it."""
    after = {"job": OuterRef("job")}
    finished = OuterRef("inspection__finished_at")
    results = StepResult.objects.filter(inspection=OuterRef("inspection"))
    links = JobInspection.objects.select_related("inspection__protocol").annotate(
        failed=Exists(results.failing_a_test()),
        outdated=Exists(TimeEntry.objects.filter(recorded_at__gt=finished, **after))
        | Exists(PartUse.objects.filter(move__recorded_at__gt=finished, **after))
        | Exists(PartUse.objects.filter(move__reversed_by__recorded_at__gt=finished, **after)),
    )
    return links.order_by("-inspection__opened_at", "-pk")


def population_of(job: WorkOrder) -> str:
    """Where a job's machine comes from: a bought one has worn otherwise than a broken one."""
    bought = job.stay is not None and job.stay.came == Stay.Came.PURCHASE
    return Population.PRIVATE if bought else Population.REPAIR


def newest_of(links: Sequence[JobInspection], occasion: str) -> JobInspection | None:
    return next((one for one in links if one.inspection.protocol.occasion == occasion), None)


def final_test_of(links: Sequence[JobInspection]) -> FinalTest:
    """How a job's newest final test stands; ``links`` are all of its own, newest first."""
    test = newest_of(links, "final")
    if test is None:
        return FinalTest.MISSING
    if not test.inspection.is_finished:
        return FinalTest.UNFINISHED
    if test.outdated:
        return FinalTest.OLDER
    return FinalTest.FAILED if test.failed else FinalTest.PASSED


def inspection_facts(links: Sequence[JobInspection]) -> dict:
    """What a job's inspections, newest first, say for ``JobFacts``."""
    arrival = newest_of(links, "arrival")
    return {
        "inspected": arrival is not None and arrival.inspection.is_finished,
        "test": final_test_of(links),
    }
