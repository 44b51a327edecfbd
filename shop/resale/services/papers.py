"""What is written down so that a machine may leave: waivers, papers, the holding period."""

from datetime import date, datetime
from uuid import UUID

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils.translation import gettext as _

from shop.floor.models import Stay
from shop.resale.domain.exits import Exit
from shop.resale.models import Disclosure, HoldingRule, Waiver
from shop.resale.selectors import draft_of, one_for_sale, readiness_of
from shop.resale.services.errors import ResaleError
from shop.resale.services.stays import ours_and_here


@transaction.atomic
def waive(
    *,
    stay: Stay,
    way: Exit,
    condition: str,
    reason: str,
    on: date,
    by: AbstractBaseUser,
    at: datetime,
) -> Waiver:
    """The owner lets a condition pass, for what it names now and for a reason.

    Raises ResaleError where nothing is to be waived, or nothing may be.
    """
    stay = ours_and_here(stay)
    unmet = {one.key: one for one in readiness_of([stay], on, way)[stay.pk]}.get(condition)
    if unmet is None:
        raise ResaleError(_("This condition is met, or was let pass already."))
    if not unmet.waivable:
        raise ResaleError(_("Nobody can let this pass: %(what)s") % {"what": unmet.sentence})
    if not reason.strip():
        raise ResaleError(_("Write down why you let this pass."), field="reason")
    return Waiver.objects.create(
        stay=stay,
        exit=way.key,
        condition=condition,
        names=list(unmet.names),
        reason=reason.strip(),
        waived_at=at,
        waived_by=by,
    )


@transaction.atomic
def attach_paper(
    *,
    stay: Stay,
    way: Exit,
    note: str = "",
    key: UUID,
    on: date,
    by: AbstractBaseUser,
    at: datetime,
) -> Disclosure:
    """Attach the terms of an exit with the faults as they are known now.

    The same key gives the first paper. Raises ResaleError.
    """
    stay = ours_and_here(stay)
    if first := Disclosure.objects.filter(key=key).first():
        return first
    if not way.written:
        raise ResaleError(_("No paper goes along when a machine leaves this way."))
    draft = draft_of(one_for_sale(stay.pk, on).facts, way)
    return Disclosure.objects.create(
        stay=stay,
        exit=way.key,
        key=key,
        faults=[list(fault) for fault in draft.faults],
        terms=list(draft.terms),
        support=draft.support,
        support_words=draft.support_words,
        note=note.strip(),
        attached_at=at,
        attached_by=by,
    )


def set_holding(*, days: int, from_on: date, by: AbstractBaseUser, at: datetime) -> HoldingRule:
    """For how many days a bought machine is held, from a day on; the day's own rule is replaced."""
    said = {"days": days, "set_at": at, "set_by": by}
    return HoldingRule.objects.update_or_create(from_on=from_on, defaults=said)[0]
