"""Whether one part can be had, by whichever number and for whichever machine it fits."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import partial

from django.db.models import Q

from parts.answers.domain.support import Said, support
from parts.answers.models import Answer
from parts.answers.selectors import learned_odds, rules_and_mark, said
from parts.buying.models import PurchaseOrderLine
from parts.buying.selectors import awaited_lines
from parts.fits.models import Fit, Part
from parts.fits.selectors import Chain, chain_of
from parts.stock.models import CostLayer
from parts.stock.selectors import DonorHeld, donor_components
from parts.support.domain.coverage import Need, Place, cover
from parts.support.domain.offers import LATER, Donated, Fitted, Known, Shelved, offers_of
from parts.support.domain.routes import Offer
from parts.support.selectors.coverage import cores_of
from parts.support.selectors.words import Row, Way, rows
from units.catalogue.models import MachineModel

ANSWERS_SHOWN = 60


@dataclass(frozen=True)
class PartWay:
    """One way to the part, and the answer on which it rests, if it rests on one."""

    way: Way
    answer: Answer | None


@dataclass(frozen=True)
class PartHad:
    """``row`` holds the word and the best way; ``answers`` are all that were given of the part,
    its other numbers and the machines that it fits, those withdrawn as well."""

    part: Part
    row: Row
    ways: list[PartWay]
    answers: list[Answer]
    lying: Decimal
    donors: list[DonorHeld]
    to_come: list[PurchaseOrderLine]


def part_had(part: Part, on: date) -> PartHad:
    """What is known of one part today. Eight queries, and one more on the first asking of a day.

    ``part`` should have been fetched with its component.
    """
    chain = chain_of(part)
    models = _models(part, chain)
    answers = _answers(part, chain, models)
    shelf = _shelf([part, *chain.later])
    donors = donor_components(models, [part.component_id]) if models else {}
    offers = _offers(part, chain, models, answers, shelf, donors, on)
    place = Place(part.component_id, part.component.name)
    row = rows(cover([place], {place.slug: [Need(offers)]}))[0]
    by_id = {answer.pk: answer for answer in answers}
    return PartHad(
        part=part,
        row=row,
        ways=[PartWay(way, by_id.get(way.offer.answer_id)) for way in row.ways],
        answers=answers[:ANSWERS_SHOWN],
        lying=shelf[part.pk].on_hand if part.pk in shelf else Decimal(0),
        donors=_each_once(donors.values(), part.component_id),
        to_come=list(awaited_lines([part])),
    )


def _models(part: Part, chain: Chain) -> list[MachineModel]:
    """The current models that it fits, by its own number or an earlier one. One query."""
    numbers = [part.pk, *(one.pk for one in chain.earlier)]
    fits = Fit.objects.standing().filter(part__in=numbers).with_current().values("current_id")
    return list(MachineModel.objects.filter(pk__in=fits).order_by("pk"))


def _answers(part: Part, chain: Chain, models: Sequence[MachineModel]) -> list[Answer]:
    """Newest first, what was said of any of its numbers or of what it fits. One query."""
    numbers = [part.pk, *(one.pk for one in (*chain.earlier, *chain.later))]
    family = MachineModel.objects.families_of([model.pk for model in models]).values("pk")
    wide = Q(model__in=family) & (Q(component=None) | Q(component=part.component_id))
    answers = Answer.objects.filter(Q(part__in=numbers) | wide).with_names().newest_first()
    return list(answers.select_related("exchange_offer"))


def _shelf(parts: Sequence[Part]) -> dict[int, Shelved]:
    """How many of each lie here, at the cost of the next one to go. One query."""
    layers = CostLayer.objects.filter(part__in=parts).not_empty().oldest_first()
    lying: dict[int, Decimal] = defaultdict(Decimal)
    costs: dict[int, Decimal] = {}
    for layer in layers:
        lying[layer.part_id] += layer.quantity_left
        costs.setdefault(layer.part_id, layer.unit_cost)
    return {part: Shelved(amount, costs[part]) for part, amount in lying.items()}


def _offers(part, chain: Chain, models, answers, shelf, donors, on: date) -> list[Offer]:
    """What each model that it fits offers, all together; a part that fits none stands alone."""
    rules, mark = rules_and_mark(on)
    odds = learned_odds(mark, on)
    judge = partial(support, on=on, rules=rules)
    wide, by_part = _sorted(answers)
    cores = cores_of(answers)
    fitted = [_fitted(part)] + [_fitted(later, LATER) for later in chain.later]
    found = []
    for model in models or [None]:
        pieces = donors[model.pk].get(part.component_id, ()) if model else ()
        known = Known(
            wide=wide[model.pk] if model else (),
            by_part=by_part,
            fitted=fitted,
            shelf=shelf,
            donors=[Donated(one.serial, one.grade) for one in pieces],
            cores=cores,
        )
        maker, grade = (model.maker_id, model.grade) if model else (part.maker_id, "")
        found += offers_of(known, judge, odds, odds.unasked(maker, grade, None))
    return list(dict.fromkeys(found))


def _sorted(answers: Iterable[Answer]) -> tuple[dict[int, list[Said]], dict[int, list[Said]]]:
    """``{current model: said}`` of what is wide, and ``{part: said}``."""
    wide, by_part = defaultdict(list), defaultdict(list)
    for answer in answers:
        if answer.part_id:
            by_part[answer.part_id].append(said(answer))
        else:
            wide[answer.model.merged_into_id or answer.model_id].append(said(answer))
    return wide, by_part


def _fitted(part: Part, via: str = "fits") -> Fitted:
    return Fitted(part.pk, part.number, via, designation=part.designation)


def _each_once(donors: Iterable[dict[str, list[DonorHeld]]], component: str) -> list[DonorHeld]:
    found = [one for pieces in donors for one in pieces.get(component, ())]
    return list({one.donor_id: one for one in found}.values())
