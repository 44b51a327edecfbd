import tomllib
from datetime import date
from pathlib import Path

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from parts.answers.models import Answer, FreshnessRule, Withdrawal
from parts.fits.services import RefusedError
from units.catalogue.models import MachineModel
from units.show import words
from units.show.words import day as written


class AnswerError(RefusedError):
    """An answer that cannot be written down or withdrawn as it stands."""


@transaction.atomic
def record_answer(
    *,
    model: MachineModel,
    status: str,
    given_on: date,
    given_by: str,
    channel: str,
    warranty: str = Answer.Warranty.UNKNOWN,
    until: date | None = None,
    effective_on: date | None = None,
    note: str = "",
    by,
    at,
) -> Answer:
    """Write down what a maker said. The same words said twice on one day are one answer.

    ``effective_on`` is the later day on which a published notice begins to hold.
    """
    given_by = " ".join(given_by.split())
    _require_sense(status, given_on, given_by, channel, until, effective_on, at)
    # The model's row is locked so that a double click finds the answer of its first press.
    model = MachineModel.objects.select_for_update(of=("self",)).get(pk=model.current.pk)
    said = {
        "model": model,
        "status": status,
        "given_on": given_on,
        "given_by": given_by,
        "channel": channel,
        "warranty": warranty,
        "until": until,
        "effective_on": effective_on,
        "note": note.strip(),
    }
    same = Answer.objects.standing().filter(**said).first()
    return same or Answer.objects.create(**said, recorded_at=at, recorded_by=by)


def _require_sense(status, given_on, given_by, channel, until, effective_on, at) -> None:
    today = timezone.localdate(at)
    if not given_by:
        raise AnswerError(_("Say who said so: a name, or the desk that answered."), "given_by")
    if given_on > today:
        raise AnswerError(
            _("%(day)s has not come yet. Use the day on which they said so.")
            % {"day": written(given_on)},
            "given_on",
        )
    if until and status != Answer.Status.BACK_ORDERED:
        raise AnswerError(_("Only a back-order has a day until which it lasts."), "until")
    if until and until < given_on:
        raise AnswerError(_("The back-order cannot end before they spoke of it."), "until")
    if effective_on and channel != FreshnessRule.Channel.NOTICE:
        raise AnswerError(_("Only a published notice takes effect on a later day."), "effective_on")
    if effective_on and effective_on < given_on:
        raise AnswerError(_("A notice takes effect on its own day or later."), "effective_on")


@transaction.atomic
def withdraw_answer(*, answer: Answer, reason: str, by, at) -> Withdrawal:
    """Say that an answer was wrong. It stays in the record and counts no longer."""
    reason = " ".join(reason.split())
    if not reason:
        raise AnswerError(_("Say why the answer is withdrawn."), "reason")
    answer = Answer.objects.select_for_update(of=("self",)).get(pk=answer.pk)
    earlier = Withdrawal.objects.filter(answer=answer).select_related("recorded_by").first()
    if earlier:
        raise AnswerError(
            _("%(person)s withdrew this answer already, on %(day)s: %(reason)s")
            % {
                "person": words.person(earlier.recorded_by),
                "day": written(timezone.localdate(earlier.recorded_at)),
                "reason": earlier.reason,
            }
        )
    return Withdrawal.objects.create(answer=answer, reason=reason, recorded_at=at, recorded_by=by)


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
