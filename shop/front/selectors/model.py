"""What is known of one model: its binder and odds, its parts, its past."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db.models import Q

from parts.answers.domain.support import Support
from parts.answers.models import Answer
from parts.fits.models import Fit
from parts.stock.selectors import on_hand
from parts.support.selectors import Standing, standing_of
from shop.work.selectors.fixes import FixesInWords, fixes_in_words
from units.binder.selectors import Binder, binder_of
from units.catalogue.models import MachineModel, Unit
from units.catalogue.selectors import model_families, model_ids_of
from units.inspections.models import Population
from units.inspections.selectors.odds import ComponentOdds, replacement_of

MACHINES_SHOWN = 20
ANSWERS_SHOWN = 60
ODDS_SHOWN = 8


@dataclass(frozen=True)
class ModelPage:
    """What the bench opens daily; the odds are those of one ``population``."""

    model: MachineModel
    binder: Binder
    population: Population
    odds: list[ComponentOdds]

    @property
    def likeliest(self) -> list[ComponentOdds]:
        return self.odds[:ODDS_SHOWN]

    @property
    def others(self) -> list[ComponentOdds]:
        return self.odds[ODDS_SHOWN:]

    @property
    def populations(self) -> list[Population]:
        """The ones that it could show instead."""
        return [one for one in Population if one != self.population]


@dataclass(frozen=True)
class FittingPart:
    fit: Fit
    on_hand: Decimal


@dataclass(frozen=True)
class ModelParts:
    model: MachineModel
    standing: Standing
    answers: list[Answer]
    parts: list[FittingPart]

    @property
    def support(self) -> Support:
        return self.standing.support


@dataclass(frozen=True)
class ModelPast:
    model: MachineModel
    fixes: list[FixesInWords]
    machines: list[Unit]


def model_known(pk: int) -> MachineModel:
    """Raises MachineModel.DoesNotExist."""
    return MachineModel.objects.select_related("maker", "kind", "merged_into__maker").get(pk=pk)


def model_page(model: MachineModel, on: date, asked: str = "") -> ModelPage:
    """``asked`` names the population whose odds are wanted; else those brought for repair."""
    population = Population(asked) if asked in Population.values else Population.REPAIR
    return ModelPage(
        model=model,
        binder=binder_of(model_ids_of(model)),
        population=population,
        odds=replacement_of(model, population, on),
    )


def model_parts(model: MachineModel, on: date) -> ModelParts:
    """Whether parts can be had, with what was learnt under the names merged into the model."""
    families = model_families([model])
    ids = families[model.pk]
    fits = list(Fit.objects.filter(model__in=ids).select_related("part__component", "part__maker"))
    fits.sort(key=lambda fit: (fit.part.component.name, fit.part.number))
    stock = on_hand([fit.part for fit in fits])
    answers = Answer.objects.filter(Q(model__in=ids) | Q(part__in=[fit.part_id for fit in fits]))
    answers = answers.select_related("component", "part", "recorded_by", "withdrawal")
    return ModelParts(
        model=model,
        standing=standing_of([model], on, families)[model.pk],
        answers=list(answers.newest_first()[:ANSWERS_SHOWN]),
        parts=[FittingPart(fit, stock.get(fit.part_id, Decimal(0))) for fit in fits],
    )


def model_past(model: MachineModel, on: date) -> ModelPast:
    """What was done before on machines of the model, and which ones we met."""
    ids = model_ids_of(model)
    return ModelPast(
        model=model,
        fixes=fixes_in_words(ids, on),
        machines=list(Unit.objects.filter(model__in=ids).with_identity()[:MACHINES_SHOWN]),
    )
