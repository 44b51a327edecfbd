from collections.abc import Iterable
from datetime import date, datetime

from parts.answers.domain.support import Freshness, Said, Support, support
from parts.answers.models import Answer, FreshnessRule
from units.catalogue.models import MachineModel
from units.catalogue.selectors import model_families

# An answer whose rule nobody set counts on its own day only: never as a yes for longer.
WITHOUT_RULE = Freshness(days=0, back_order_days=0)


def support_of(
    models: Iterable[MachineModel], on: date, known_at: datetime | None = None
) -> dict[int, Support]:
    """``{model id: support on that day}``, by what had been written down at ``known_at``.

    An answer given for any name merged into a model counts for it. Three queries, however many.
    """
    families = model_families(models)
    answers = Answer.objects.filter(model__in={pk for ids in families.values() for pk in ids})
    said = {}
    for answer in answers.select_related("withdrawal"):
        said.setdefault(answer.model_id, []).append(_said(answer))
    rules = freshness_rules()
    return {
        pk: support([one for member in ids for one in said.get(member, [])], on, rules, known_at)
        for pk, ids in families.items()
    }


def freshness_rules() -> dict[str, Freshness]:
    """``{channel: rule}`` for every channel. One query."""
    set_rules = {
        rule.channel: Freshness(rule.days, rule.back_order_days)
        for rule in FreshnessRule.objects.all()
    }
    return dict.fromkeys(FreshnessRule.Channel.values, WITHOUT_RULE) | set_rules


def _said(answer: Answer) -> Said:
    withdrawal = getattr(answer, "withdrawal", None)
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
    )
