"""Which model to ask about next, and all that is wanted for the call."""

from collections import Counter
from dataclasses import dataclass
from datetime import date

from parts.support.domain.coverage import HAD, Coverage
from parts.support.selectors import Call, ModelCoverage, Standing, call_list, coverage_of
from parts.support.selectors.words import Row, rows
from shop.floor.models import Stay
from shop.front.domain.calls import Stake
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
    """``{model id: what hangs on it}`` of the models that matter today. Two queries."""
    jobs = WorkOrder.objects.open().order_by().values_list("unit__model", flat=True)
    own = Stay.objects.here().ours().order_by().values_list("unit__model", flat=True)
    jobs, own = Counter(jobs), Counter(own)
    return {pk: Stake(jobs[pk], own[pk]) for pk in jobs.keys() | own.keys()}


def calls_to_make(on: date) -> list[CallRow]:
    """The most urgent first. A constant number of queries."""
    at_stake = _by_current(stakes())
    models = list(MachineModel.objects.filter(pk__in=at_stake).select_related("maker", "kind"))
    weights = {pk: stake.weight for pk, stake in at_stake.items()}
    return [CallRow(call, at_stake[call.model.pk]) for call in call_list(models, weights, on)]


def _by_current(at_stake: dict[int, Stake]) -> dict[int, Stake]:
    """The stakes of a model merged into another are that one's."""
    rows = MachineModel.objects.filter(pk__in=at_stake).exclude(merged_into=None)
    found = dict(at_stake)
    for pk, into in rows.values_list("pk", "merged_into"):
        gone, kept = found.pop(pk), found.get(into, Stake())
        found[into] = Stake(gone.jobs + kept.jobs, gone.own + kept.own)
    return found


def call_page(pk: int) -> CallPage:
    """What stands on the screen of a call at once. Four queries. Raises MachineModel.DoesNotExist.

    What is known, and who comes after, is fetched when the screen stands.
    """
    model = MachineModel.objects.current().select_related("maker", "kind").get(pk=pk)
    family = MachineModel.objects.families_of([pk]).values("pk")
    units = Unit.objects.filter(model__in=family, stays__left_on=None).with_identity().distinct()
    jobs = WorkOrder.objects.open().filter(unit__model__in=family)
    own = Stay.objects.here().ours().filter(unit__model__in=family)
    stake = Stake(jobs.count(), own.count())
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
