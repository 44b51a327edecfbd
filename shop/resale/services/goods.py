"""Goods without serials are sold by measure, at their share of what they cost."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from uuid import UUID, uuid5

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from parts.days.services import require_open
from shop.floor.models import Goods, GoodsOut
from shop.floor.services import FloorError, Leaving, take_goods
from shop.people.models import Customer
from shop.resale.services.errors import ResaleError
from shop.resale.services.leaving import Paid, take_money
from shop.resale.services.stays import customer_of
from shop.till.domain.pricing import Line
from shop.till.models import GOODS
from shop.till.services import issue_invoice
from shop.work.services.intake import Person


@dataclass(frozen=True)
class Bargain:
    """So many of the goods, and the price of one before tax."""

    quantity: Decimal
    price: Decimal


@transaction.atomic
def sell_goods(
    *,
    goods: Goods,
    bargain: Bargain,
    customer: Customer | Person,
    paid: Paid,
    on: date,
    key: UUID,
    by: AbstractBaseUser,
    at: datetime,
) -> GoodsOut:
    """Sell some of the goods: an invoice, payment if any, and they leave at their cost.

    The same key sells once. Raises ResaleError, DayClosedError, PersonError, PhoneError, or
    TillError for the money.
    """
    Goods.objects.select_for_update().get(pk=goods.pk)
    if first := GoodsOut.objects.filter(key=key).first():
        return first
    require_open(on)
    _check(goods, bargain, on, at)
    line = Line(GOODS, goods.name, bargain.quantity, bargain.price)
    said = {"on": on, "by": by, "at": at}
    invoice = issue_invoice(
        customer=customer_of(customer, on), lines=[line], document=goods.number,
        key=f"goods {key}", **said,
    )  # fmt: skip
    leaving = Leaving(bargain.quantity, GoodsOut.Reason.SOLD, invoice.number)
    try:
        out = take_goods(goods=goods, leaving=leaving, key=key, **said)
    except FloorError as error:
        raise ResaleError(str(error), field="quantity") from error
    take_money(invoice, paid, on, uuid5(key, "payment"), by, at)
    return out


def _check(goods: Goods, bargain: Bargain, on: date, at: datetime) -> None:
    if bargain.price <= 0:
        raise ResaleError(_("A price is more than nothing."), field="price")
    if on > timezone.localdate(at):
        raise ResaleError(_("This day is still to come. Enter the day of the sale."), field="on")
    if on < goods.came_on:
        raise ResaleError(
            _("They cannot be sold before the day they came. Correct the day."), field="on"
        )
