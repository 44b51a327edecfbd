"""Which model to ask about next, and all that is wanted for the call."""

from collections import Counter
from dataclasses import dataclass
from datetime import date

from parts.support.selectors import Call, ModelCoverage, Standing, call_list, coverage_of
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
    """One call: what to read out, what is known, and who comes after in the order of urgency."""

    model: MachineModel
    stake: Stake
    units: list[Unit]
    covered: ModelCoverage
    standing: Standing
    following: MachineModel | None
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


def call_page(pk: int, on: date) -> CallPage:
    """Everything for a call about one model. Raises MachineModel.DoesNotExist."""
    model = MachineModel.objects.current().select_related("maker", "kind").get(pk=pk)
    rows = calls_to_make(on)
    place = next((at for at, row in enumerate(rows) if row.call.model.pk == pk), None)
    mine = None if place is None else rows[place]
    later = rows if place is None else rows[place + 1 :]
    covered = coverage_of([model], on)[pk]
    units = Unit.objects.filter(model=model, stays__left_on=None).with_identity().distinct()
    return CallPage(
        model=model,
        stake=mine.stake if mine else Stake(),
        units=list(units[:SERIALS_SHOWN]),
        covered=covered,
        standing=Standing(model, covered.support, covered.holds),
        following=later[0].call.model if later else None,
        left=len(later),
    )
