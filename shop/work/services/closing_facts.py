"""What is known of a job about to be closed."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime

from django.db.models import Max
from django.utils.translation import gettext as _

from shop.work.domain.billing import Agreed, not_used
from shop.work.domain.closing import ClosingFacts, FinalTest, SafetyKey
from shop.work.models import Estimate, PartUse, TimeEntry, WorkOrder
from shop.work.services.agreed import beyond_the_yes
from shop.work.services.facts import (
    agreed_lines,
    approved_estimate,
    findings_of,
    minutes_of,
    used_parts,
    verdicts_of,
)
from units.catalogue.models import Component
from units.inspections.domain.understanding import CLEAR
from units.inspections.models import StepResult


@dataclass(frozen=True)
class Ending:
    """How a job is to end. ``not_used`` says, by line of the estimate, why its part was not."""

    outcome: str
    safety_key: str = ""
    not_used: Mapping[int, str] = field(default_factory=dict)
    notice: str = ""
    waiver: str = ""


def closing_facts(job: WorkOrder, ending: Ending, on: date) -> ClosingFacts:
    """What is known of a job, for the ending that a person chose."""
    findings = findings_of(job)
    cleared = components_cleared(job)
    open_still = [one for one in findings if one.holds or one.component_id not in cleared]
    worked_on = components_worked_on(job)
    left = [one for one in open_still if one.component_id not in worked_on]
    held = {one.component for one in verdicts_of(job, findings) if one.hold}
    held = (held | {one.component_id for one in left if one.holds}) - worked_on
    lines = lines_to_take(job)
    return ClosingFacts(
        outcome=ending.outcome,
        has_safety_key=bool(job.unit and job.unit.model.kind.has_safety_key),
        safety_key=SafetyKey(ending.safety_key),
        said_no=said_no(job),
        inspected=job.inspections.filter(inspection__finished_at__isnull=False).exists(),
        minutes=minutes_of(job),
        test=final_test_of(job),
        lines_not_used=[
            line.description for line in lines if not ending.not_used.get(line.line, "").strip()
        ],
        holds=names_of(held),
        not_covered=names_of({one.component_id for one in left} - held),
        standing=names_of({one.component_id for one in open_still}),
        beyond_the_yes=str(beyond_the_yes(job, on) or ""),
        notice=ending.notice,
        waiver=ending.waiver,
    )


def names_of(components: set[str]) -> list[str]:
    found = Component.objects.filter(pk__in=components).order_by("name")
    return [_(name) for name in found.values_list("name", flat=True)]


def components_worked_on(job: WorkOrder) -> set[str]:
    """Components of the agreed lines that were carried out, and of other parts used."""
    agreed, used = agreed_lines(approved_estimate(job)), used_parts(job)
    undone = {line.line for line in not_used(agreed, used)}
    # A replacement whose part stayed on the shelf was not done, whatever its labour line says.
    left = {line.component for line in agreed if line.line in undone}
    done = {line.component for line in agreed if line.component} - left
    parts = PartUse.objects.filter(job=job, put_back=False)
    return done | set(parts.values_list("move__part__component", flat=True))


def components_cleared(job: WorkOrder) -> set[str]:
    """Components that the rules clear: what was found there comes from elsewhere."""
    return {one.component for one in verdicts_of(job, findings_of(job)) if one.act == CLEAR}


def said_no(job: WorkOrder) -> bool:
    newest = Estimate.objects.filter(job=job, approval__isnull=False).order_by("-version").first()
    return bool(newest) and not newest.approval.yes


def final_test_of(job: WorkOrder) -> FinalTest:
    """How the newest final test stands against the newest part and time."""
    tests = job.inspections.filter(inspection__protocol__occasion="final")
    link = tests.select_related("inspection").order_by("-inspection__opened_at", "-pk").first()
    if link is None:
        return FinalTest.MISSING
    test = link.inspection
    if test.finished_at is None:
        return FinalTest.UNFINISHED
    newest = [moment for moment in last_work_of(job) if moment]
    if any(moment > test.finished_at for moment in newest):
        return FinalTest.OLDER
    failed = test.results.filter(outcome=StepResult.Outcome.FAIL)
    unmade = test.results.filter(outcome=StepResult.Outcome.NOT_POSSIBLE, step__holds=True)
    return FinalTest.FAILED if failed.exists() or unmade.exists() else FinalTest.PASSED


def last_work_of(job: WorkOrder) -> list[datetime | None]:
    """When a part was last taken, last put back, and time last written."""
    uses = PartUse.objects.filter(job=job)
    parts = uses.aggregate(out=Max("move__recorded_at"), back=Max("move__reversed_by__recorded_at"))
    times = TimeEntry.objects.filter(job=job).aggregate(last=Max("recorded_at"))
    return [parts["out"], parts["back"], times["last"]]


def lines_to_take(job: WorkOrder) -> list[Agreed]:
    """Agreed parts of which none was taken yet."""
    return not_used(agreed_lines(approved_estimate(job)), used_parts(job))
