"""Which model to ask about next, and all that is wanted for the call."""

from collections import Counter
from dataclasses import dataclass
from datetime import date

from django.db.models.functions import Coalesce

from parts.support.domain.coverage import HAD, Coverage
from parts.support.selectors import Call, ModelCoverage, Standing, call_list, coverage_of
from parts.support.selectors.words import Row, rows
from shop.floor.models import Stay
from shop.front.domain.calls import Stake
from shop.lots.selectors import offered_models
from shop.work.models import WorkOrder
from units.catalogue.models import MachineModel, Unit

SERIALS_SHOWN = 6


@dataclass(frozen=True)
class CallRow:
    call: Call
    stake: Stake


@dataclass(frozen=True)
class CallPage:
    """One call: what to read out, and what hangs on it."""

    model: MachineModel
    stake: Stake
    units: list[Unit]


@dataclass(frozen=True)
class NextCall:
    """The call after one in the order of urgency, and how many are left."""

    model: MachineModel
    left: int


def stakes() -> dict[int, Stake]:
    """``{model id: what hangs on it}`` of the models that matter today. Three queries.

    What hangs on a model that was merged into another hangs on that one.
    """
    current = Coalesce("unit__model__merged_into", "unit__model")
    jobs, own = (
        Counter(rows.order_by().annotate(current=current).values_list("current", flat=True))
        for rows in (WorkOrder.objects.open(), Stay.objects.here().ours())
    )
    offered = offered_models()
    mattering = jobs.keys() | own.keys() | offered.keys()
    return {pk: Stake(jobs[pk], own[pk], offered[pk]) for pk in mattering}


def calls_to_make(on: date) -> list[CallRow]:
    """The most urgent first. A constant number of queries."""
    at_stake = stakes()
    models = list(MachineModel.objects.filter(pk__in=at_stake).select_related("maker", "kind"))
    weights = {pk: stake.weight for pk, stake in at_stake.items()}
    return [CallRow(call, at_stake[call.model.pk]) for call in call_list(models, weights, on)]


def call_page(pk: int) -> CallPage:
    """What stands on the screen of a call at once. Five queries. Raises MachineModel.DoesNotExist.

    What is known, and who comes after, is fetched when the screen stands.
    """
    model = MachineModel.objects.current().select_related("maker", "kind").get(pk=pk)
    family = MachineModel.objects.families_of([pk]).values("pk")
    units = Unit.objects.filter(model__in=family, stays__left_on=None).with_identity().distinct()
    jobs = WorkOrder.objects.open().filter(unit__model__in=family)
    own = Stay.objects.here().ours().filter(unit__model__in=family)
    stake = Stake(jobs.count(), own.count(), offered_models(family).total())
    return CallPage(model, stake, list(units[:SERIALS_SHOWN]))


def call_known(model: MachineModel, on: date) -> tuple[ModelCoverage, Standing]:
    """What is known of a model before the call."""
    covered = coverage_of([model], on)[model.pk]
    return covered, Standing(model, covered.support, covered.holds)


def rows_to_ask(coverage: Coverage) -> list[Row]:
    """What wears or decides and of which no fresh word says that it can be had."""
    return [row for row in rows(coverage) if row.covered.place.counts and row.covered.word != HAD]


def next_call(pk: int, on: date) -> NextCall | None:
    """Who comes after the call about this model; the first of all for a model not on the list."""
    models = [row.call.model for row in calls_to_make(on)]
    place = next((at for at, model in enumerate(models) if model.pk == pk), -1)
    later = models[place + 1 :]
    return NextCall(later[0], len(later)) if later else None
