"""For how long answers counted, on any day."""

from collections.abc import Iterable
from datetime import date, datetime

from django.db.models import OuterRef, QuerySet, Subquery

from parts.answers.domain.support import Freshness
from parts.answers.models import Answer, FreshnessChange, FreshnessRule, Withdrawal
from parts.answers.selectors.evening import evening_of, last_evening

# An answer whose rule nobody set counts on its own day only: never as a yes for longer.
WITHOUT_RULE = Freshness(days=0, back_order_days=0)


def freshness_rules(on: date, known_at: datetime | None = None) -> dict[str, Freshness]:
    """``{channel: rule}`` for every channel, as they stood that evening, or at ``known_at`` if
    that is earlier. One query."""
    return _rules(_as_of(on, known_at))


def rules_and_mark(
    on: date, known_at: datetime | None = None
) -> tuple[dict[str, Freshness], str | None]:
    """The same rules, and what tells one evening's answers from another's (None in a shop that has
    no rule). One query."""
    by_then = {"recorded_at__lte": last_evening()}
    newest = Answer.objects.filter(**by_then).order_by("-pk").values("pk")[:1]
    withdrawn = Withdrawal.objects.filter(**by_then).order_by("-pk").values("pk")[:1]
    rows = list(
        _as_of(on, known_at).annotate(newest=Subquery(newest), withdrawn=Subquery(withdrawn))
    )
    mark = f"{rows[0].newest}-{rows[0].withdrawn}" if rows else None
    return _rules(rows), mark


def _as_of(on: date, known_at: datetime | None) -> QuerySet[FreshnessRule]:
    """Rules with the first change after that moment, which tells what they were until then."""
    moment = min(filter(None, [evening_of(on), known_at]))
    later = FreshnessChange.objects.filter(rule=OuterRef("pk"), changed_at__gt=moment)
    later = later.order_by("changed_at", "pk")[:1]
    return FreshnessRule.objects.annotate(
        changed_later=Subquery(later.values("pk")),
        days_then=Subquery(later.values("days_before")),
        back_order_days_then=Subquery(later.values("back_order_days_before")),
    )


def _rules(rows: Iterable[FreshnessRule]) -> dict[str, Freshness]:
    set_rules = {
        rule.channel: Freshness(rule.days_then, rule.back_order_days_then)
        if rule.changed_later
        else Freshness(rule.days, rule.back_order_days)
        for rule in rows
    }
    return dict.fromkeys(FreshnessRule.Channel.values, WITHOUT_RULE) | set_rules
