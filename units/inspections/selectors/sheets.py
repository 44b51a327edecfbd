import tomllib
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field
from decimal import Decimal
from functools import cache
from itertools import groupby

from django.conf import settings
from django.utils.translation import gettext
from django.utils.translation import gettext as _

from units.binder.models import ErrorCode
from units.catalogue.models import Component
from units.inspections.domain.notes import CommonNotes, parse_notes
from units.inspections.domain.odds import POPULATIONS
from units.inspections.domain.outcomes import population_of
from units.inspections.domain.protocols import ProtocolTable, parse_kind
from units.inspections.domain.steps import Known
from units.inspections.domain.tables import Named, parse_cautions, parse_rules, parse_words
from units.inspections.domain.understanding import Pair, Rule, Verdict, code_rule, verdicts
from units.inspections.models import Finding, Inspection, ProtocolStep, StepResult

REFERENCE = settings.BASE_DIR / "fixtures" / "reference"


def _table(name: str) -> dict:
    text = (REFERENCE / name).read_text(encoding="utf-8")
    return tomllib.loads(text, parse_float=Decimal)


@cache
def cautions() -> dict[str, str]:
    """``{key: sentence}``; read once."""
    return parse_cautions(_table("cautions.toml"), "cautions.toml")


@cache
def tools() -> dict[str, str]:
    """``{key: what a technician takes along}``; read once."""
    return parse_words(_table("tools.toml"), "tools", "tools.toml")


@cache
def understanding_rules() -> tuple[Rule, ...]:
    """The table that turns findings into verdicts; read once."""
    kinds = _table("kinds.toml")
    slugs = {kind["slug"] for kind in kinds["kinds"]}
    named = Named(kinds["components"], slugs, cautions(), POPULATIONS)
    return parse_rules(_table("rules.toml"), "rules.toml", named)


@cache
def protocol_tables() -> tuple[ProtocolTable, ...]:
    """The protocols as the shop ships them, which a database may not hold yet; read once."""
    kinds = {
        kind["slug"]: {*kind["wears"], *kind["critical"], *kind["others"]}
        for kind in _table("kinds.toml")["kinds"]
    }
    known = Known(kinds, cautions(), tools())
    shared = _table("protocols/shared.toml")["steps"]
    tables = (parse_kind(_table(f"protocols/{kind}.toml"), shared, kind, known) for kind in kinds)
    return tuple(protocol for found in tables for protocol in found)


@cache
def findable() -> dict[str, frozenset[Pair]]:
    """By kind, every (component, condition) that a step of it may write down."""
    found = defaultdict(set)
    for protocol in protocol_tables():
        for step in protocol.steps:
            found[protocol.kind] |= step.findable
    return {kind: frozenset(pairs) for kind, pairs in found.items()}


@cache
def common_notes() -> CommonNotes:
    """What is often noted, and why steps are not possible; read once."""
    return parse_notes(_table("notes.toml"), "notes.toml", _table("kinds.toml")["components"])


def standing_findings(units: Iterable) -> dict[int, list[Finding]]:
    """What is wrong with each machine now: ``{unit id: findings}``, every unit named.

    A finding stands until the same step (by its key, in whichever protocol) finds it sound or
    work clears it. Each carries its component and step. One query for any number of units.
    """
    return Finding.objects.standing(units)


def newest_finished(units: Iterable, occasion: str) -> dict[int, Inspection]:
    """``{unit id: its newest finished inspection on that occasion}``; one query."""
    found = {}
    rows = (
        Inspection.objects.finished()
        .filter(unit__in=[unit.pk for unit in units], protocol__occasion=occasion)
        .select_related("protocol", "finished_by")
        .order_by("finished_at", "id")
    )
    for inspection in rows:
        found[inspection.unit_id] = inspection
    return found


@dataclass(frozen=True)
class StepLine:
    step: ProtocolStep
    result: StepResult | None

    @property
    def label(self) -> str:
        """What was found."""
        return self.result.label if self.result else ""

    @property
    def consequence(self) -> str:
        """What follows where it was not possible, if the reason was one of the usual ones."""
        if self.result is None or self.result.is_possible:
            return ""
        follows = common_notes().consequences
        return next((follows[one] for one in follows if gettext(one) == self.result.reason), "")


@dataclass(frozen=True)
class Meaning:
    """What one rule says to do, and to which components."""

    components: list[Component]
    verdict: Verdict
    caused_by: list[Component] = field(default_factory=list)

    @property
    def names(self) -> str:
        return ", ".join(gettext(component.name) for component in self.components)

    @property
    def causes(self) -> str:
        """What has to be put right with it, or it fails again; empty where nothing has."""
        return ", ".join(gettext(component.name) for component in self.caused_by)


@dataclass(frozen=True)
class InspectionSheet:
    """All that the page of an inspection shows."""

    inspection: Inspection
    lines: list[StepLine]
    meanings: list[Meaning]

    @property
    def faults(self) -> list[StepLine]:
        return [line for line in self.lines if line.result and line.result.outcome == "fail"]

    @property
    def gaps(self) -> list[StepLine]:
        return [line for line in self.lines if line.result and not line.result.is_possible]

    @property
    def done(self) -> int:
        return sum(line.result is not None for line in self.lines)

    @property
    def ending(self) -> dict | None:
        """The condition that ended it, with the sentence ``why``; None where it goes on."""
        endings = (line.result.ending for line in self.lines if line.result)
        return next((ending for ending in endings if ending), None)

    @property
    def next_step(self) -> ProtocolStep | None:
        """The first step without a result; None when every step has one, or something ended it."""
        if self.ending:
            return None
        return next((line.step for line in self.lines if line.result is None), None)


def inspection_sheet(inspection: Inspection) -> InspectionSheet:
    """The steps in order with their results, and what those mean taken by themselves.

    Steps are those asked, and any other of the protocol that somebody answered.
    """
    results = {
        result.step_id: result
        for result in inspection.results.select_related(
            "photo", "recorded_by", "step", "error_code"
        ).prefetch_related("error_code__components")
    }
    asked = inspection.asked
    lines = [
        StepLine(step, results.get(step.pk))
        for step in inspection.protocol.steps.select_related("component")
        if asked is None or step.key in asked or step.pk in results
    ]
    kind = inspection.protocol.kind_id
    population = population_of(inspection.protocol.occasion, inspection.population)
    said = verdicts_of([line.result for line in lines if line.result], kind, population)
    return InspectionSheet(inspection, lines, meanings_of(said))


def verdicts_of(results: Iterable[StepResult], kind: str, population: str = "") -> list[Verdict]:
    """What results mean by the rules, and by the error codes that were shown; needs the step of
    each, and its code with the components that this makes suspect."""
    rules, found = list(understanding_rules()), []
    for result in results:
        at, word = result.step.component_of(result.condition), result.condition
        if result.error_code:
            word = f"code-{result.error_code_id}"
            rules.append(_rule_of(word, at, result.error_code))
        found.append((at, word))
    return verdicts(found, rules, kind, population)


def _rule_of(key: str, at: str, code: ErrorCode) -> Rule:
    reason = _(
        "Code %(code)s: %(meaning)s (%(source)s). A code says what the console noticed, seldom what"
        " is broken: measure before anything is replaced."
    )
    places = {"code": code.code, "meaning": code.meaning, "source": code.source}
    suspects = [component.pk for component in code.components.all()]
    caution = cautions()["maker-first"]
    return code_rule(key, at, suspects, reason % places, caution=caution, source=code.source)


def meanings_of(found: list[Verdict]) -> list[Meaning]:
    """Verdicts beside their components, those that one rule gives alike together; one query."""
    slugs = {verdict.component for verdict in found}
    slugs |= {cause for verdict in found for cause in verdict.because_of}
    components = Component.objects.in_bulk(slugs)
    groups = groupby(
        found, key=lambda verdict: (verdict.rule, verdict.act, verdict.hold, verdict.because_of)
    )
    alike = [list(group) for _, group in groups]
    return [
        Meaning(
            [components[each.component] for each in group],
            group[0],
            [components[cause] for cause in group[0].because_of],
        )
        for group in alike
    ]
