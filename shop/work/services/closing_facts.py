"""What is known of a job about to be closed."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from django.utils.translation import gettext as _

from shop.work.domain.closing import ClosingFacts, SafetyKey
from shop.work.selectors.inspections import final_test_of
from shop.work.services.agreed import beyond_the_yes
from shop.work.services.bench import Bench
from shop.work.services.inspecting import untested
from units.catalogue.models import Component
from units.show.words import person


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
    held = held_components(bench) - worked_on
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
        inspected=any(link.inspection.is_finished for link in bench.inspections),
        minutes=bench.minutes,
        test=final_test_of(bench.inspections),
        lines_not_used=unexplained,
        parts_in=sorted({use.description for use in bench.used}),
        untested=untested(bench),
        holds=sorted(names[one] for one in held),
        not_covered=sorted(names[one] for one in standing - worked_on - held),
        standing=sorted(names[one] for one in standing),
        clocks=[person(clock.technician) for clock in bench.clocks],
        beyond_the_yes=str(beyond_the_yes(bench, on) or ""),
        notice=ending.notice,
        waiver=ending.waiver,
    )


def held_components(bench: Bench) -> set[str]:
    """Components whose fault holds the machine, by what was found and by what the rules say."""
    found = {one.component_id for one in bench.findings if one.holds}
    return found | {one.component for one in bench.verdicts if one.hold}


def names_of(components: set[str]) -> dict[str, str]:
    if not components:
        return {}
    return {one.pk: _(one.name) for one in Component.objects.filter(pk__in=components)}
