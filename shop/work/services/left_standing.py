"""A finished machine that nobody collects: notices, and in the end, where the law allows, ours.

What may be charged, after which notice, and when a machine may be kept, is local law.
"""

from datetime import date, datetime
from decimal import Decimal
from uuid import UUID

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from shop.work.domain.states import KEEP
from shop.work.domain.storage import charged_from
from shop.work.models import CollectionNotice, StorageRule, WorkOrder
from shop.work.selectors.left_standing import storage_rule_on
from shop.work.services.errors import JobError
from shop.work.services.recalls import tell_recalls
from shop.work.services.steps import as_it_stands, lock_job, require_way, take_step
from shop.work.services.taking_over import into_our_stock
from units.show.words import day


@transaction.atomic
def give_notice(
    *,
    job: WorkOrder,
    how: str,
    given_on: date,
    note: str = "",
    key: UUID,
    by: AbstractBaseUser,
    at: datetime,
) -> CollectionNotice:
    """Write down that a customer was asked to collect his machine, with what storage he was told.

    The same key gives the first notice again. Raises JobError.
    """
    job = lock_job(job)
    if notice := CollectionNotice.objects.filter(key=key).first():
        return notice
    if job.state != WorkOrder.State.CLOSED or job.purpose == WorkOrder.Purpose.OWN:
        raise JobError(as_it_stands(job))
    if not timezone.localdate(job.state_since) <= given_on <= timezone.localdate(at):
        raise JobError(_("A notice is given after the job was closed, and not in the future."))
    rule = storage_rule_on(given_on)
    return CollectionNotice.objects.create(
        job=job,
        key=key,
        given_on=given_on,
        how=how,
        note=note,
        per_day=rule.per_day if rule else Decimal(0),
        from_on=charged_from(given_on, rule.days_free if rule else 0),
        written_at=at,
        written_by=by,
    )


@transaction.atomic
def keep_machine(
    *, job: WorkOrder, reason: str, recalls_told: str = "", by: AbstractBaseUser, at: datetime
) -> WorkOrder:
    """Take a machine that was never collected into our stock, at no cost. Raises JobError.

    ``recalls_told`` says how its owner was told of its open recalls: a remedy may be due to him.
    """
    job = lock_job(job)
    require_way(job, KEEP, "", by)
    if not reason.strip():
        raise JobError(_("Say why it is kept, and by which law or paper."))
    _require_notice(job, timezone.localdate(at))
    tell_recalls(job=job, how=recalls_told, by=by, at=at)
    into_our_stock(job=job, price=Decimal(0), by=by, at=at)
    checked = {"reason", "notices", "recalls-told"}
    return take_step(job=job, deed=KEEP, checked=checked, note=reason.strip(), by=by, at=at)


def _require_notice(job: WorkOrder, on: date) -> None:
    first = job.collection_notices.first()
    if first is None:
        raise JobError(_("The customer was never asked to collect it. Give a notice first."))
    if on < first.from_on or on == first.given_on:
        raise JobError(
            _("The notice of %(given)s gives the customer until %(day)s.")
            % {"given": day(first.given_on), "day": day(max(first.from_on, first.given_on))}
        )


def set_storage_rule(*, days_free: int, per_day: Decimal, from_on: date) -> StorageRule:
    """What storage costs from a day on; a second rule for a day takes the first one's place."""
    if days_free < 0 or per_day < 0:
        raise JobError(_("Days and sums of storage are 0 or more."))
    return StorageRule.objects.update_or_create(
        from_on=from_on, defaults={"days_free": days_free, "per_day": per_day}
    )[0]
