"""What a person decides about a match of a notice and a machine."""

from datetime import datetime

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils.translation import gettext as _

from units.catalogue.models import Unit
from units.recalls.models import Recall, RecallDecision
from units.recalls.selectors import CONFIRMED, DISMISSED, REMEDIED, UnitMatch, match_of
from units.recalls.services.errors import RecallError


@transaction.atomic
def decide_match(
    *,
    recall: Recall,
    unit: Unit,
    outcome: str,
    reason: str,
    basis: str,
    by: AbstractBaseUser,
    at: datetime,
) -> RecallDecision:
    """Confirm or dismiss that a notice means a machine. The reason is always asked for.

    ``basis`` is that of the match which the person saw. Said twice, it is decided once. Raises
    RecallError.
    """
    match = _as_seen(recall, unit, basis)
    if outcome not in (CONFIRMED, DISMISSED):
        raise RecallError(_("Say whether the machine is recalled or not meant."), "outcome")
    if not reason.strip():
        raise RecallError(
            _("Write down why: what you compared, or who told you, and when."), "reason"
        )
    return _written(match, outcome, reason.strip(), "", by, at)


@transaction.atomic
def record_remedy(
    *,
    recall: Recall,
    unit: Unit,
    reason: str,
    advice: str,
    basis: str,
    by: AbstractBaseUser,
    at: datetime,
) -> RecallDecision:
    """Write down that the approved remedy was done, and on whose advice it may be sold again.

    Whether a remedied product may be sold again is not for this program to settle. Raises
    RecallError.
    """
    match = _as_seen(recall, unit, basis)
    if match.state not in (CONFIRMED, REMEDIED):
        raise RecallError(_("Confirm first that this recall means the machine."), "reason")
    if not reason.strip():
        raise RecallError(_("Write down what was done, by whom and when."), "reason")
    if not advice.strip():
        raise RecallError(
            _("Write down whose advice was taken that it may be sold again."), "advice"
        )
    return _written(match, REMEDIED, reason.strip(), advice.strip(), by, at)


def _as_seen(recall: Recall, unit: Unit, basis: str) -> UnitMatch:
    """The match as it stands, the machine held so that decisions come one after the other."""
    Unit.objects.select_for_update().get(pk=unit.pk)
    unit = Unit.objects.with_identity().get(pk=unit.pk)
    match = match_of(recall, unit)
    if match is None:
        raise RecallError(
            _("This recall does not mean the machine any more: one of them was corrected."),
            "reason",
        )
    if match.basis != basis:
        raise RecallError(
            _(
                "The notice or the machine was corrected since this page was opened. Read it "
                "again before you decide."
            ),
            "reason",
        )
    return match


def _written(
    match: UnitMatch,
    outcome: str,
    reason: str,
    advice: str,
    by: AbstractBaseUser,
    at: datetime,
) -> RecallDecision:
    last = match.decision
    if last and (last.outcome, last.basis, last.reason, last.advice, last.decided_by_id) == (
        outcome,
        match.basis,
        reason,
        advice,
        by.pk,
    ):
        return last
    return RecallDecision.objects.create(
        recall=match.recall,
        unit=match.unit,
        outcome=outcome,
        how=match.how,
        basis=match.basis,
        reason=reason,
        advice=advice,
        decided_at=at,
        decided_by=by,
    )
