"""Suppliers, and what they ask."""

import re
from datetime import date
from decimal import Decimal

from django.db import transaction
from django.utils.translation import gettext as _

from parts.answers.models import Answer, FreshnessRule
from parts.answers.services import record_answer
from parts.buying.models import Supplier
from parts.buying.services.refusing import BuyingError
from parts.fits.models import Part

TELEPHONE = re.compile(r"[+]?[0-9 ()./-]{5,20}")


@transaction.atomic
def add_supplier(*, name: str, phone: str = "") -> Supplier:
    """The supplier of this name, added when nobody had met it; the number stays as typed."""
    name, phone = " ".join(name.split()), phone.strip()
    if not name:
        raise BuyingError(_("Say who the supplier is."), "supplier")
    if phone and not TELEPHONE.fullmatch(phone):
        raise BuyingError(_("A telephone number is written in digits."), "phone")
    found = Supplier.objects.filter(name__iexact=name).first()
    return found or Supplier.objects.get_or_create(name=name, defaults={"phone": phone})[0]


@transaction.atomic
def record_price(
    *, supplier: Supplier, part: Part, cost: Decimal, lead_days: int | None, given_on: date, by, at
) -> Answer:
    """Write down what a supplier asks for a part: an answer; earlier ones stay."""
    return record_answer(
        part=part,
        route=Answer.Route.SUPPLIER,
        party=supplier.name,
        status=Answer.Status.SUPPORTED,
        cost=cost,
        lead_days=lead_days,
        given_on=given_on,
        given_by=supplier.name,
        channel=FreshnessRule.Channel.LISTING,
        by=by,
        at=at,
    )


@transaction.atomic
def price_part(*, supplier: str, **price) -> Answer:
    """:func:`record_price` with the supplier's name as typed; a new one is added."""
    return record_price(supplier=add_supplier(name=supplier), **price)
