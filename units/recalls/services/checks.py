from datetime import date, datetime

from django.contrib.auth.models import AbstractBaseUser
from django.utils import timezone
from django.utils.translation import gettext as _

from units.catalogue.models import Unit
from units.recalls.models import RecallCheck
from units.recalls.services.errors import RecallError


def record_check(
    *,
    unit: Unit,
    outcome: str,
    source: str,
    note: str,
    checked_on: date,
    by: AbstractBaseUser,
    at: datetime,
) -> RecallCheck:
    """Write down that a machine was compared with a list of recalls. Raises RecallError."""
    if checked_on > timezone.localdate(at):
        raise RecallError(
            _("This day has not come yet. Enter the day on which the list was read."),
            "checked_on",
        )
    if not source.strip():
        raise RecallError(_("Say which list was read."), "source")
    if outcome == RecallCheck.Outcome.FITS and not note.strip():
        raise RecallError(_("Write down which recall fits, and its remedy."), "note")
    return RecallCheck.objects.create(
        unit=unit,
        outcome=RecallCheck.Outcome(outcome),
        source=source.strip(),
        note=note.strip(),
        checked_on=checked_on,
        recorded_at=at,
        recorded_by=by,
    )
