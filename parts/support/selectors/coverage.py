"""What can be had for models, gathered from every route."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from decimal import Decimal
from functools import partial

from django.db.models import Q

from parts.answers.domain.odds import Odds
from parts.answers.domain.support import MAKER, Said, Support, support
from parts.answers.models import Answer
from parts.answers.selectors import learned_odds, rules_and_mark, said
from parts.fits.selectors import Fitting, fittings, sister_links
from parts.stock.models import StockMove
from parts.stock.selectors import donor_components
from parts.support.domain.coverage import Coverage, Need, cover
from parts.support.domain.offers import (
    Donated,
    Fitted,
    Known,
    Shelved,
    cost_for_one,
    offers_of,
)
from parts.support.domain.routes import SISTER, Core
from parts.support.domain.together import sides
from parts.support.selectors.ages import years_since_made
from parts.support.selectors.places import places_by_kind
from units.catalogue.models import MachineModel


@dataclass(frozen=True)
class ModelCoverage:
    """A model on a day: the maker's word on the whole of it, its odds, and every component."""

    model: MachineModel
    on: date
    support: Support
    holds: float
    coverage: Coverage


@dataclass(frozen=True)
class _Evidence:
    """Everything fetched for some models at once."""

    currents: dict[int, int]
    fitted: dict[int, dict[str, list[Fitting]]]
    of_models: dict[int, list[tuple[str | None, Said]]]
    of_parts: dict[int, list[Said]]
    shelf: dict[int, Shelved]
    donors: dict[int, dict[str, list]]
    cores: dict[int, Core]


def coverage_of(
    models: Iterable[MachineModel], on: date, known_at: datetime | None = None
) -> dict[int, ModelCoverage]:
    """``{model id: coverage on that day}``, by what had been written down at ``known_at``.

    Eight queries, however many models, parts and answers, once what is kept for the day was read
    (:mod:`parts.support.selectors.keeping`); a past day takes one more to learn its odds.
    """
    models = list(models)
    evidence = _gather(models, on, known_at)
    places = places_by_kind()
    rules, mark = rules_and_mark(on, known_at)
    odds = learned_odds(mark, on, known_at)
    judge = partial(support, on=on, rules=rules, known_at=known_at)
    unasked = _unasked(models, evidence, odds, judge, on)
    return {
        model.pk: _covered(model, on, evidence, places.get(model.kind_id, []), judge, odds, unasked)
        for model in models
    }


def _gather(models: Sequence[MachineModel], on: date, known_at: datetime | None) -> _Evidence:
    currents = {model.pk: model.merged_into_id or model.pk for model in models}
    sisters = sister_links(models, known_at)
    fitted = fittings(models, on=on, known_at=known_at, sisters=sisters)
    parts = {one.part.pk for found in fitted.values() for fits in found.values() for one in fits}
    of_models, of_parts = defaultdict(list), defaultdict(list)
    members = MachineModel.objects.families_of(currents.values()).values("pk")
    answers = Answer.objects.filter(Q(model__in=members) | Q(part__in=parts))
    answers = list(answers.select_related("withdrawal", "model", "exchange_offer"))
    for answer in answers:
        if answer.part_id:
            of_parts[answer.part_id].append(said(answer))
        else:
            current = answer.model.merged_into_id or answer.model_id
            of_models[current].append((answer.component_id, said(answer)))
    return _Evidence(
        currents,
        fitted,
        of_models,
        of_parts,
        _shelf(parts, on, known_at),
        donor_components(models, on=on, known_at=known_at, sisters=sisters),
        cores_of(answers),
    )


def cores_of(answers: Iterable[Answer]) -> dict[int, Core]:
    """``{answer id: what is wanted for the old one}``; ``exchange_offer`` should have been fetched
    with each."""
    offers = [(one.pk, getattr(one, "exchange_offer", None)) for one in answers]
    return {pk: Core(offer.core_charge, offer.core_days) for pk, offer in offers if offer}


def _shelf(parts: Iterable[int], on: date, known_at: datetime | None) -> dict[int, Shelved]:
    """What lay on the shelf that day, each part at the cost of its newest delivery. One query."""
    moves = StockMove.objects.filter(part__in=parts, moved_on__lte=on).order_by("moved_on", "id")
    if known_at:
        moves = moves.filter(recorded_at__lte=known_at)
    lying: dict[int, Decimal] = defaultdict(Decimal)
    costs: dict[int, Decimal] = {}
    for part, quantity, cost, reason in moves.values_list("part", "quantity", "cost", "reason"):
        lying[part] += quantity
        if quantity > 0 and reason != StockMove.Reason.MOVED:
            costs[part] = cost_for_one(quantity, cost)
    return {part: Shelved(amount, costs.get(part)) for part, amount in lying.items() if amount}


def _unasked(models, evidence: _Evidence, odds: Odds, judge, on: date) -> dict[int, float]:
    """The chance of a yes for those models whose maker was never asked about the whole."""
    silent = [model for model in models if not judge(_of_whole(evidence, model)).known]
    years = years_since_made(silent, on) if silent else {}
    return {
        model.pk: odds.unasked(model.maker_id, model.grade, years.get(model.pk)) for model in models
    }


def _of_whole(evidence: _Evidence, model: MachineModel) -> list[Said]:
    """What the maker said of the whole model under any of its names."""
    told = evidence.of_models.get(evidence.currents[model.pk], [])
    return [one for component, one in told if component is None and one.route == MAKER]


def _covered(model, on, evidence: _Evidence, places, judge, odds, unasked) -> ModelCoverage:
    needs = {
        place.slug: [
            Need(offers_of(known, judge, odds, unasked[model.pk]), quantity, position)
            for known, quantity, position in _known(model, place.slug, evidence)
        ]
        for place in places
    }
    whole = judge(_of_whole(evidence, model))
    return ModelCoverage(
        model=model,
        on=on,
        support=whole,
        holds=holds_of(whole, odds, unasked[model.pk]),
        coverage=cover(places, needs),
    )


def _known(model, slug: str, evidence: _Evidence) -> Iterator[tuple[Known, Decimal, str]]:
    """What is known of each position of a component that needs a part of its own, how many of it a
    machine needs, and the position. A donor's piece is the whole component."""
    told = evidence.of_models.get(evidence.currents[model.pk], [])
    pieces = evidence.donors.get(model.pk, {}).get(slug, ())
    fitted = evidence.fitted.get(model.pk, {}).get(slug, ())
    known = Known(
        wide=[one for component, one in told if component in (None, slug)],
        by_part=evidence.of_parts,
        shelf=evidence.shelf,
        donors=[
            Donated(one.serial, one.grade, SISTER if one.of_sister else "fits") for one in pieces
        ],
        cores=evidence.cores,
    )
    for side in sides([_fitted(one) for one in fitted]):
        yield replace(known, fitted=side.fitted), side.quantity, side.position


def _fitted(one: Fitting) -> Fitted:
    part = one.part
    return Fitted(part.pk, part.number, one.via, one.quantity, part.designation, one.position)


def holds_of(known: Support, odds: Odds, unasked: float) -> float:
    """The chance that the word still holds; where there is none, that parts can be had."""
    if not known.known:
        return unasked
    return odds.holds(known.status, known.channel, known.age_days)
