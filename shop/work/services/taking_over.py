"""A customer's machine becomes ours: sold to us, or left standing as local law allows."""

from datetime import datetime
from decimal import Decimal

from django.contrib.auth.models import AbstractBaseUser
from django.utils import timezone
from django.utils.translation import gettext as _

from shop.floor.models import MachineCost, Stay
from shop.floor.services import add_cost, begin_stay, end_stay
from shop.work.models import WorkOrder
from shop.work.services.errors import JobError


def into_our_stock(*, job: WorkOrder, price: Decimal, by: AbstractBaseUser, at: datetime) -> Stay:
    """End the customer's stay and begin our own, with what we pay for the machine as its cost.

    The price is owed to the seller until the payment is booked.
    """
    if job.stay is None or job.stay.left_on:
        raise JobError(_("The machine does not stand here; it has to come in first."))
    on = timezone.localdate(at)
    end_stay(stay=job.stay, left=Stay.Left.OURS, on=on, document=job.number, by=by)
    stay = begin_stay(
        unit=job.unit, owner=None, came=Stay.Came.PURCHASE, on=on, by=by, came_from=job.owner
    )
    if not price:
        return stay
    add_cost(
        stay=stay,
        sort=MachineCost.Sort.PURCHASE,
        amount=price,
        on=on,
        document=job.number,
        key=f"taken over {job.key}",
        by=by,
        at=at,
    )
    return stay
