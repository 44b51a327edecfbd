"""The maker's word on models with the chance that it holds, and whom to ask next."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from parts.answers.domain.support import ENDED, NOTICE, Support
from parts.answers.selectors import learned_odds, rules_and_mark, support_of
from parts.support.domain.calling import Question, call_order
from parts.support.selectors.ages import years_since_made
from parts.support.selectors.coverage import holds_of
from units.catalogue.models import MachineModel
from units.catalogue.selectors import model_families


@dataclass(frozen=True)
class Standing:
    """The maker's word on a whole model, and the chance that it is still true; for a model whose
    maker never answered, the chance that parts can be had."""

    model: MachineModel
    support: Support
    holds: float

    @property
    def percent(self) -> int:
        return round(100 * self.holds)

    @property
    def settled(self) -> bool:
        """A published end is not asked about again, and what somebody answered today not today."""
        ended = self.support.status == ENDED and self.support.channel == NOTICE
        return ended or (self.support.known and self.support.age_days == 0)


@dataclass(frozen=True)
class Call:
    """A model to ask about, and how urgent that is."""

    standing: Standing
    weight: float
    urgency: float

    @property
    def model(self) -> MachineModel:
        return self.standing.model


def standing_of(
    models: Iterable[MachineModel], on: date, families: dict[int, list[int]] | None = None
) -> dict[int, Standing]:
    """``{model id: standing}``. Three queries, however many models, and two more where the day's
    odds are not kept yet."""
    models = list(models)
    families = families or model_families(models)
    rules, mark = rules_and_mark(on)
    supports = support_of(models, on, families=families, rules=rules)
    odds = learned_odds(mark, on)
    silent = [model for model in models if not supports[model.pk].known]
    years = years_since_made(silent, on) if silent else {}
    found = {}
    for model in models:
        known = supports[model.pk]
        unasked = odds.unasked(model.maker_id, model.grade, years.get(model.pk))
        found[model.pk] = Standing(model, known, holds_of(known, odds, unasked))
    return found


def call_list(models: Sequence[MachineModel], weights: Mapping[int, float], on: date) -> list[Call]:
    """The models worth a call, the most urgent first; ``weights`` by model id are handed down."""
    standing = standing_of(models, on)
    questions = [
        Question(model.pk, weights[model.pk], one.holds, one.settled)
        for model in models
        if (one := standing[model.pk])
    ]
    return [Call(standing[one.model], one.weight, one.urgency) for one in call_order(questions)]
