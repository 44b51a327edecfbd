"""Load and set how long an answer stays fresh."""

import tomllib
from pathlib import Path

from django.db import transaction
from django.utils.translation import gettext as _

from parts.answers.models import FreshnessChange, FreshnessRule
from parts.answers.services.sense import AnswerError


@transaction.atomic
def load_reference(folder: Path) -> None:
    """Add the freshness rules of ``freshness.toml``; a value that the shop edited stays."""
    rules = tomllib.loads((folder / "freshness.toml").read_text(encoding="utf-8"))
    for channel, rule in rules.items():
        if channel not in FreshnessRule.Channel.values:
            raise AnswerError(
                _("freshness.toml: “%(channel)s” is no way an answer comes.") % {"channel": channel}
            )
        FreshnessRule.objects.get_or_create(
            channel=channel,
            defaults={
                "days": rule.get("days"),
                "back_order_days": rule.get("back_order_days"),
            },
        )


@transaction.atomic
def set_freshness(
    *, channel: str, days: int | None, back_order_days: int | None, by, at
) -> FreshnessRule:
    """Let answers of a channel count for so many days, for ever if None, from this moment on.

    What was fresh on the days before stays as it was: the change is kept.
    """
    rule = FreshnessRule.objects.select_for_update().get(pk=channel)
    before = {"days_before": rule.days, "back_order_days_before": rule.back_order_days}
    if (rule.days, rule.back_order_days) != (days, back_order_days):
        rule.days, rule.back_order_days = days, back_order_days
        rule.save(update_fields=["days", "back_order_days"])
        FreshnessChange.objects.create(
            rule=rule,
            days=days,
            back_order_days=back_order_days,
            changed_at=at,
            changed_by=by,
            **before,
        )
    return rule
