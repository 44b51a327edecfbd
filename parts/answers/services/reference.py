"""Load how long an answer stays fresh."""

import tomllib
from pathlib import Path

from django.db import transaction
from django.utils.translation import gettext as _

from parts.answers.models import FreshnessRule
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
