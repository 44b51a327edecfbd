"""What is known of one model: support and its answers, parts that fit, machines."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db.models import Q

from parts.answers.domain.support import Support
from parts.answers.models import Answer
from parts.fits.models import Fit
from parts.stock.selectors import on_hand
from parts.support.selectors import Standing, standing_of
from units.catalogue.models import MachineModel, Unit
from units.catalogue.selectors import model_families


@dataclass(frozen=True)
class FittingPart:
    fit: Fit
    on_hand: Decimal


@dataclass(frozen=True)
class ModelPage:
    model: MachineModel
    standing: Standing
    answers: list[Answer]
    parts: list[FittingPart]
    machines: list[Unit]

    @property
    def support(self) -> Support:
        return self.standing.support


MACHINES_SHOWN = 20
ANSWERS_SHOWN = 60


def model_page(pk: int, on: date) -> ModelPage:
    """A model with what was learnt under the names merged into it.

    Raises MachineModel.DoesNotExist.
    """
    model = MachineModel.objects.select_related("maker", "kind", "merged_into__maker").get(pk=pk)
    families = model_families([model])
    ids = families[pk]
    standing = Fit.objects.standing().filter(model__in=ids)
    fits = list(standing.select_related("part__component", "part__maker"))
    fits.sort(key=lambda fit: (fit.part.component.name, fit.part.number))
    stock = on_hand([fit.part for fit in fits])
    answers = Answer.objects.filter(Q(model__in=ids) | Q(part__in=[fit.part_id for fit in fits]))
    answers = answers.select_related("component", "part", "recorded_by", "withdrawal")
    return ModelPage(
        model=model,
        standing=standing_of([model], on, families)[model.pk],
        answers=list(answers.newest_first()[:ANSWERS_SHOWN]),
        parts=[FittingPart(fit, stock.get(fit.part_id, Decimal(0))) for fit in fits],
        machines=list(Unit.objects.filter(model__in=ids).with_identity()[:MACHINES_SHOWN]),
    )
