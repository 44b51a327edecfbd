"""What is known of one model: support and its answers, parts that fit, machines."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from parts.answers.domain.support import Support
from parts.answers.models import Answer
from parts.answers.selectors import support_of
from parts.fits.models import Fit
from parts.stock.selectors import on_hand
from units.catalogue.models import MachineModel, Unit
from units.catalogue.selectors import model_ids_of


@dataclass(frozen=True)
class FittingPart:
    fit: Fit
    on_hand: Decimal


@dataclass(frozen=True)
class ModelPage:
    model: MachineModel
    support: Support
    answers: list[Answer]
    parts: list[FittingPart]
    machines: list[Unit]


MACHINES_SHOWN = 20


def model_page(pk: int, on: date) -> ModelPage:
    """A model with what was learnt under the names merged into it.

    Raises MachineModel.DoesNotExist.
    """
    model = MachineModel.objects.select_related("maker", "kind", "merged_into__maker").get(pk=pk)
    ids = model_ids_of(model)
    fits = list(Fit.objects.filter(model__in=ids).select_related("part__component", "part__maker"))
    fits.sort(key=lambda fit: (fit.part.component.name, fit.part.number))
    stock = on_hand([fit.part for fit in fits])
    answers = Answer.objects.filter(model__in=ids).select_related("recorded_by", "withdrawal")
    return ModelPage(
        model=model,
        support=support_of([model], on)[model.pk],
        answers=list(answers.newest_first()),
        parts=[FittingPart(fit, stock.get(fit.part_id, Decimal(0))) for fit in fits],
        machines=list(Unit.objects.filter(model__in=ids).with_identity()[:MACHINES_SHOWN]),
    )
