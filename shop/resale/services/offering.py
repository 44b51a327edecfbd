"""How a machine of ours looks and what we ask for it."""

from datetime import datetime
from decimal import Decimal

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from shop.floor.models import Stay
from shop.floor.services import note_year
from shop.resale.models import AskingPrice, Grading
from shop.resale.services.errors import ResaleError
from shop.resale.services.stays import ours_and_here


@transaction.atomic
def record_grading(
    *,
    stay: Stay,
    grade: str,
    cleaned: bool,
    safety_key_present: bool,
    made_in: int | None = None,
    by: AbstractBaseUser,
    at: datetime,
) -> Grading:
    """Write down how a machine of ours looks, and the year it was made where that is known.

    The newest grading counts. Raises ResaleError or FloorError.
    """
    stay = ours_and_here(stay)
    if safety_key_present and not stay.unit.model.kind.has_safety_key:
        raise ResaleError(
            _("A machine of this kind has no safety key. Leave that box empty."),
            field="safety_key_present",
        )
    if made_in is not None:
        note_year(stay=stay, made_in=made_in, today=timezone.localdate(at))
    return Grading.objects.create(
        stay=stay,
        grade=Grading.Grade(grade),
        cleaned=cleaned,
        safety_key_present=safety_key_present,
        graded_at=at,
        graded_by=by,
    )


@transaction.atomic
def set_price(
    *,
    stay: Stay,
    price: Decimal,
    floor: Decimal,
    reason: str = "",
    by: AbstractBaseUser,
    at: datetime,
) -> AskingPrice:
    """Set what we ask, before tax, and the least we take. Below the least it needs a reason."""
    stay = ours_and_here(stay)
    if price <= 0 or floor < 0:
        raise ResaleError(
            _("A price is more than nothing, and the least price is not negative."), field="price"
        )
    if price < floor and not reason.strip():
        raise ResaleError(
            _("The price is below the least price. Raise it, or write down the reason."),
            field="reason",
        )
    return AskingPrice.objects.create(
        stay=stay, price=price, floor=floor, reason=reason.strip(), set_at=at, set_by=by
    )
