"""Which notices mean which machines: compared whenever it is asked, so that no machine that comes
later, and no notice that is loaded later, is missed."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, replace

from django.db.models import OuterRef, Q, QuerySet, Subquery
from django.db.models.functions import Coalesce
from django.utils.translation import gettext as _

from units.catalogue.models import MachineModel, Maker, Unit
from units.recalls.domain.matching import Comparison, How, Machine, Match
from units.recalls.domain.names import keys_to_ask
from units.recalls.models import Recall, RecallCheck, RecallDecision, RecallWord

CONFIRMED = RecallDecision.Outcome.CONFIRMED
DISMISSED = RecallDecision.Outcome.DISMISSED
REMEDIED = RecallDecision.Outcome.REMEDIED
OPEN = "open"


def newest_checks(units: Iterable[Unit]) -> dict[int, RecallCheck]:
    """The newest recall check of each machine, by the machine's id. One query."""
    newest = RecallCheck.objects.filter(unit=OuterRef("unit")).order_by("-checked_on", "-id")
    checks = RecallCheck.objects.filter(
        unit__in=[unit.pk for unit in units], pk=Subquery(newest.values("pk")[:1])
    )
    return {check.unit_id: check for check in checks.select_related("recorded_by")}


@dataclass(frozen=True)
class UnitMatch:
    """That a notice means a machine, or may. ``decision`` is the newest, whether it counts or not.

    ``state`` is ``open`` or the outcome of the decision that counts.
    """

    unit: Unit
    recall: Recall
    how: str
    sentences: tuple[str, ...]
    basis: str
    state: str
    decision: RecallDecision | None

    @property
    def holds(self) -> bool:
        """An open match keeps a machine from sale as surely as a confirmed one."""
        return self.state in (OPEN, CONFIRMED)

    @property
    def how_sure(self) -> str:
        return _(self.how)


@dataclass(frozen=True)
class ModelMatch:
    model: MachineModel
    how: str

    @property
    def how_sure(self) -> str:
        return _(self.how)


def matches_of(units: Iterable[Unit]) -> dict[int, list[UnitMatch]]:
    """The matches of each machine, by its id, the surest first; a machine without any is absent.

    Three queries, whatever the number of machines (which come ``with_identity``).
    """
    units = list(units)
    known = _known(MachineModel.objects.families_of({unit.model_id for unit in units}))
    makers = {maker for machine in known.values() for maker in machine.makers}
    decisions = RecallDecision.objects.filter(unit__in=[unit.pk for unit in units])
    return _compared(units, known, _comparisons(makers, decisions), decisions)


def all_matches() -> list[UnitMatch]:
    """The matches of every machine that we know, the open ones first. Five queries."""
    decisions = RecallDecision.objects.all()
    makers = set(Maker.objects.values_list("name", flat=True))
    comparisons = _comparisons(makers, decisions)
    known = _known(MachineModel.objects.annotate(current_id=Coalesce("merged_into", "pk")))
    # Without a serial every model matches that does so with one; few do at all.
    meant = [pk for pk, model in known.items() if any(one.match(model) for _, one in comparisons)]
    units = Unit.objects.with_identity().filter(
        Q(model__in=meant) | Q(pk__in=decisions.values("unit"))
    )
    found = _compared(units, known, comparisons, decisions)
    matches = [match for of_one in found.values() for match in of_one]
    return sorted(matches, key=lambda match: (match.state != OPEN, *_surest_first(match)))


def open_matches() -> list[UnitMatch]:
    """What a person has yet to decide, the surest first."""
    return [match for match in all_matches() if match.state == OPEN]


def matches_of_recall(recall: Recall) -> list[UnitMatch]:
    return [match for match in all_matches() if match.recall == recall]


def match_of(recall: Recall, unit: Unit) -> UnitMatch | None:
    """The match of one notice with one machine, as it stands now."""
    matches = matches_of([unit]).get(unit.pk, [])
    return next((match for match in matches if match.recall == recall), None)


def models_named_by(recall: Recall) -> list[ModelMatch]:
    """Models of the catalogue that a notice means, whether or not we ever had one. Two queries."""
    comparison = Comparison(recall.notice)
    makers = [one.pk for one in Maker.objects.all() if comparison.names_maker([one.name])]
    models = MachineModel.objects.filter(maker__in=makers).select_related("maker", "kind")
    found = []
    for model in models:
        machine = Machine(frozenset([model.maker.name]), frozenset([model.number]), model.kind_id)
        if match := comparison.match(machine):
            found.append(ModelMatch(model, str(match.how)))
    return found


def model_matches(models: Iterable[MachineModel]) -> dict[int, list[tuple[Recall, str]]]:
    """Notices that mean a model, with how sure that is, by the model's id. Two queries.

    For a machine that is not here yet, as on a seller's list; models come with their maker.
    """
    models = list(models)
    known = _known(MachineModel.objects.families_of({model.pk for model in models}))
    makers = {maker for machine in known.values() for maker in machine.makers}
    found = defaultdict(list)
    for recall, comparison in _comparisons(makers, RecallDecision.objects.none()):
        for pk, machine in known.items():
            if match := comparison.match(machine):
                found[pk].append((recall, str(match.how)))
    return {model.pk: found[model.pk] for model in models if model.pk in found}


def recalls_that_name_our_makers() -> QuerySet[Recall]:
    """Notices in which a maker of the catalogue may be named. One query beforehand."""
    words = keys_to_ask(Maker.objects.values_list("name", flat=True))
    return Recall.objects.filter(words__word__in=words).distinct()


def _compared(
    units: Iterable[Unit],
    known: dict[int, Machine],
    comparisons: list[tuple[Recall, Comparison]],
    decisions: QuerySet[RecallDecision],
) -> dict[int, list[UnitMatch]]:
    newest = {
        (row.recall_id, row.unit_id): row
        for row in decisions.select_related("decided_by").order_by("decided_at", "pk")
    }
    found = {}
    for unit in units:
        machine = replace(known[unit.model_id], serial=unit.serial)
        matches = (
            _unit_match(unit, machine, recall, comparison, newest.get((recall.pk, unit.pk)))
            for recall, comparison in comparisons
        )
        if kept := [match for match in matches if match]:
            found[unit.pk] = sorted(kept, key=_surest_first)
    return found


def _unit_match(
    unit: Unit,
    machine: Machine,
    recall: Recall,
    comparison: Comparison,
    decision: RecallDecision | None,
) -> UnitMatch | None:
    match = comparison.match(machine)
    if match is None:
        # What a person found to be recalled stays so until a person says otherwise.
        if decision is None or decision.outcome != CONFIRMED:
            return None
        match = Match(How(decision.how))
    basis = comparison.basis(match, machine)
    return UnitMatch(
        unit=unit,
        recall=recall,
        how=str(match.how),
        sentences=match.sentences,
        basis=basis,
        state=_state(decision, basis),
        decision=decision,
    )


def _state(decision: RecallDecision | None, basis: str) -> str:
    if decision and (decision.outcome == CONFIRMED or decision.basis == basis):
        return decision.outcome
    return OPEN


def _surest_first(match: UnitMatch) -> tuple:
    return (list(How).index(match.how), -match.recall.pk, match.unit.pk)


def _known(models: QuerySet[MachineModel]) -> dict[int, Machine]:
    """What each model goes by, merged entries included, as a machine without a serial."""
    rows = models.order_by("pk").values_list("pk", "current_id", "maker__name", "number", "kind_id")
    makers, numbers, current = defaultdict(set), defaultdict(set), {}
    for pk, current_id, maker, number, kind in rows:
        current[pk] = current_id, kind
        makers[current_id].add(maker)
        numbers[current_id].add(number)
    machines = {
        head: Machine(frozenset(makers[head]), frozenset(numbers[head]), kind)
        for head, kind in current.values()
    }
    return {pk: machines[head] for pk, (head, _kind) in current.items()}


def _comparisons(
    makers: set[str], decisions: QuerySet[RecallDecision]
) -> list[tuple[Recall, Comparison]]:
    """The notices that may name one of these makers, and those that were decided on."""
    by_word = RecallWord.objects.filter(word__in=keys_to_ask(makers)).values("recall")
    rows = Recall.objects.filter(Q(pk__in=by_word) | Q(pk__in=decisions.values("recall")))
    return [(recall, Comparison(recall.notice)) for recall in rows]
