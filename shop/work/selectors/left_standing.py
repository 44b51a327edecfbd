"""Finished machines that nobody has collected."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from shop.work.domain.storage import storage_charge, storage_days
from shop.work.models import CollectionNotice, StorageRule, WorkOrder


@dataclass(frozen=True)
class LeftStanding:
    """A closed job with its notices, the oldest first, and what storage has come to."""

    job: WorkOrder
    notices: list[CollectionNotice]
    days: int
    charge: Decimal


def left_standing(on: date) -> list[LeftStanding]:
    """The one that has waited longest first. Two queries."""
    closed = WorkOrder.objects.filter(state=WorkOrder.State.CLOSED).exclude(purpose="own")
    closed = closed.with_machine().prefetch_related("collection_notices")
    return [_standing(job, on) for job in closed.order_by("state_since", "pk")]


def _standing(job: WorkOrder, on: date) -> LeftStanding:
    notices = list(job.collection_notices.all())
    first = notices[0] if notices else None
    from_on, per_day = (first.from_on, first.per_day) if first else (None, Decimal(0))
    charge = storage_charge(from_on, per_day, on)
    return LeftStanding(job, notices, storage_days(from_on, on), charge)


def storage_of(job: WorkOrder, on: date) -> LeftStanding:
    """What the storage of one job comes to. One query."""
    return _standing(job, on)


def storage_rule_on(on: date) -> StorageRule | None:
    return StorageRule.objects.filter(from_on__lte=on).first()
