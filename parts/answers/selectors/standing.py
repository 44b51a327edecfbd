from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from parts.answers.domain.odds import says_yes
from parts.answers.domain.support import (
    OF_COMPONENT,
    OF_MODEL,
    OF_PART,
    Freshness,
    Said,
    Support,
    support,
)
from parts.answers.models import Answer
from parts.answers.selectors.freshness import freshness_rules
from parts.fits.models import Part
from units.catalogue.models import MachineModel
from units.catalogue.selectors import model_families


def support_of(
    models: Iterable[MachineModel],
    on: date,
    known_at: datetime | None = None,
    families: dict[int, list[int]] | None = None,
    rules: dict[str, Freshness] | None = None,
) -> dict[int, Support]:
    """``{model id: support on that day}``, by what had been written down at ``known_at``.

    An answer given for any name merged into a model counts for it. Three queries, however many;
    one if the ``families`` of the models and the ``rules`` of freshness are handed in.
    """
    families = families or model_families(models)
    answers = Answer.objects.filter(
        model__in={pk for ids in families.values() for pk in ids},
        component=None,
        route=Answer.Route.MAKER,
    )
    told = {}
    for answer in answers.select_related("withdrawal"):
        told.setdefault(answer.model_id, []).append(said(answer))
    rules = rules or freshness_rules(on, known_at)
    return {
        pk: support([one for member in ids for one in told.get(member, [])], on, rules, known_at)
        for pk, ids in families.items()
    }


@dataclass(frozen=True)
class Priced:
    """What a supplier asks for one of a part, and by which answer we know."""

    party: str
    cost: Decimal
    lead_days: int | None
    given_on: date
    fresh: bool
    answer_id: int


def newest_prices(parts: Iterable[Part], on: date) -> dict[int, Priced]:
    """``{part id: price}`` for those that a supplier priced by that day. Two queries.

    Each supplier's newest price counts, unless it said since then that it has none; of the fresh
    ones the lowest, else the newest.
    """
    rules = freshness_rules(on)
    newest: dict[tuple[int, str], Priced] = {}
    answers = Answer.objects.standing().filter(part__in=parts, given_on__lte=on)
    answers = answers.exclude(route=Answer.Route.MAKER, cost=None).order_by("given_on", "id")
    for one in answers:
        if not says_yes(one.status) or one.status == Answer.Status.SUPERSEDED:
            newest.pop((one.part_id, one.party), None)  # it had a price, and has it no longer
        elif one.cost is not None:
            days = rules[one.channel].days
            fresh = days is None or (on - one.given_on).days <= days
            newest[one.part_id, one.party] = Priced(
                one.party, one.cost, one.lead_days, one.given_on, fresh, one.pk
            )
    best: dict[int, Priced] = {}
    for (part, _party), priced in newest.items():
        if part not in best or _before(priced, best[part]):
            best[part] = priced
    return best


def _before(one: Priced, other: Priced) -> bool:
    """A fresh price before a stale one; of fresh ones the lower, of stale ones the newer."""
    if one.fresh != other.fresh:
        return one.fresh
    return one.cost < other.cost if one.fresh else one.given_on > other.given_on


def said(answer: Answer) -> Said:
    """A row as the rules read it; ``withdrawal`` should have been fetched with it."""
    withdrawal = getattr(answer, "withdrawal", None)
    breadth = OF_PART if answer.part_id else OF_COMPONENT if answer.component_id else OF_MODEL
    return Said(
        id=answer.pk,
        status=answer.status,
        given_on=answer.given_on,
        given_by=answer.given_by,
        channel=answer.channel,
        recorded_at=answer.recorded_at,
        counts_from=answer.effective_on or answer.given_on,
        warranty=answer.warranty,
        until=answer.until,
        withdrawn_at=withdrawal and withdrawal.recorded_at,
        breadth=breadth,
        route=answer.route,
        party=answer.party,
        dealer_only=answer.dealer_only,
        cost=answer.cost,
        lead_days=answer.lead_days,
        replaced_by=answer.replaced_by_id,
    )
