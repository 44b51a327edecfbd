"""Sellers are paid for what we bought: one machine, or what a lot brought."""

from datetime import date, datetime
from decimal import Decimal
from uuid import UUID

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils.translation import gettext as _

from shop.floor.selectors import owed_for
from shop.floor.services.machines import FloorError
from shop.till.models import SellerPayment
from shop.till.services import Bought, Paying, lock_seller, pay_seller
from units.show.words import money


@transaction.atomic
def pay_purchase(
    *,
    document: str,
    amount: Decimal,
    paying: Paying,
    on: date,
    key: UUID,
    by: AbstractBaseUser,
    at: datetime,
) -> SellerPayment:
    """Pay what is owed for a purchase, or a part of it; the same key pays once.

    Raises FloorError where less is owed, TillError or DayClosedError.
    """
    owed = owed_for(document)
    if owed is None:
        raise FloorError(_("Nothing was bought under %(document)s.") % {"document": document})
    lock_seller(owed.seller)
    if first := SellerPayment.objects.filter(key=key).first():
        return first
    left = owed_for(document).owed
    if left <= 0:
        raise FloorError(_("%(document)s is paid: nothing is owed.") % {"document": document})
    if amount > left:
        raise FloorError(
            _("Only %(left)s is owed for %(document)s. Pay that much or less.")
            % {"left": money(left), "document": document}
        )
    said = {"amount": amount, "paying": paying, "on": on, "key": key, "by": by, "at": at}
    return pay_seller(bought=Bought(owed.seller, document), **said)
