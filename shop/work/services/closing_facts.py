"""What is known of a job about to be closed."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from django.utils.translation import gettext as _

from shop.work.domain.closing import ClosingFacts, FinalTest, SafetyKey
from shop.work.services.agreed import beyond_the_yes
from shop.work.services.bench import Bench
from units.catalogue.models import Component
from units.inspections.models import Protocol, StepResult


@dataclass(frozen=True)
class Ending:
    """How a job is to end. ``not_used`` says, by line of the estimate, why its part was not."""

    outcome: str
    safety_key: str = ""
    not_used: Mapping[int, str] = field(default_factory=dict)
    notice: str = ""
    waiver: str = ""


def closing_facts(bench: Bench, ending: Ending, on: date) -> ClosingFacts:
    """What is known of a job, for the ending that a person chose."""
    unit, cleared, worked_on = bench.job.unit, bench.components_cleared, bench.components_worked_on
    standing = {
        one.component_id for one in bench.findings if one.holds or one.component_id not in cleared
    }
    held = {one.component_id for one in bench.findings if one.holds}
    held = (held | {one.component for one in bench.verdicts if one.hold}) - worked_on
    names = names_of(standing | held)
    unexplained = [
        line.description
        for line in bench.lines_to_take
        if not ending.not_used.get(line.line, "").strip()
    ]
    return ClosingFacts(
        outcome=ending.outcome,
        has_safety_key=bool(unit and unit.model.kind.has_safety_key),
        safety_key=SafetyKey(ending.safety_key),
        said_no=bench.said_no,
        inspected=any(one.finished_at for one in bench.inspections),
        minutes=bench.minutes,
        test=final_test_of(bench),
        lines_not_used=unexplained,
        holds=sorted(names[one] for one in held),
        not_covered=sorted(names[one] for one in standing - worked_on - held),
        standing=sorted(names[one] for one in standing),
        beyond_the_yes=str(beyond_the_yes(bench, on) or ""),
        notice=ending.notice,
        waiver=ending.waiver,
    )


def names_of(components: set[str]) -> dict[str, str]:
    if not components:
        return {}
    return {one.pk: _(one.name) for one in Component.objects.filter(pk__in=components)}


def final_test_of(bench: Bench) -> FinalTest:
    """How the newest final test stands against the newest part and time."""
    final = Protocol.Occasion.FINAL
    test = next((one for one in bench.inspections if one.protocol.occasion == final), None)
    if test is None:
        return FinalTest.MISSING
    if test.finished_at is None:
        return FinalTest.UNFINISHED
    if bench.last_work and bench.last_work > test.finished_at:
        return FinalTest.OLDER
    failed = test.results.filter(outcome=StepResult.Outcome.FAIL)
    unmade = test.results.filter(outcome=StepResult.Outcome.NOT_POSSIBLE, step__holds=True)
    return FinalTest.FAILED if (failed | unmade).exists() else FinalTest.PASSED
