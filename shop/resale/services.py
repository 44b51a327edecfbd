"""Making a machine of ours ready for its buyer, and selling it."""

from collections.abc import Sequence
from datetime import date, datetime
from decimal import Decimal
from uuid import UUID, uuid5

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.db.models import Max
from django.utils import timezone
from django.utils.translation import gettext as _

from parts.days.services import require_open
from shop.floor.models import Stay
from shop.floor.selectors import costs_so_far
from shop.floor.services import end_stay
from shop.people.models import Customer
from shop.people.services import save_customer
from shop.resale.models import AskingPrice, Grading, Sale
from shop.resale.selectors import Unmet, readiness_of
from shop.till.domain.pricing import Line
from shop.till.models import LineClass
from shop.till.services import issue_invoice, take_payment
from shop.work.services.intake import Person
from units.show.words import day


class ResaleError(ValueError):
    """A grading, price or sale is refused; the text is a sentence to show.

    ``unmet`` holds what a sale still needs, each with its own sentence and link; ``field`` names
    the value that is to be mended, if it is one.
    """

    def __init__(self, text: str, unmet: Sequence[Unmet] = (), field: str | None = None):
        super().__init__(text)
        self.unmet, self.field = unmet, field


@transaction.atomic
def record_grading(
    *,
    stay: Stay,
    grade: str,
    cleaned: bool,
    safety_key_present: bool,
    by: AbstractBaseUser,
    at: datetime,
) -> Grading:
    """Write down how a machine of ours looks. The newest grading counts."""
    stay = _ours_and_here(stay)
    if safety_key_present and not stay.unit.model.kind.has_safety_key:
        raise ResaleError(
            _("A machine of this kind has no safety key. Leave that box empty."),
            field="safety_key_present",
        )
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
    stay = _ours_and_here(stay)
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


@transaction.atomic
def sell_machine(
    *,
    stay: Stay,
    customer: Customer | Person,
    on: date,
    method: str = "",
    amount: Decimal | None = None,
    reference: str = "",
    key: UUID,
    by: AbstractBaseUser,
    at: datetime,
) -> Sale:
    """Sell a machine of ours at its asking price: invoice, payment if any, and it leaves.

    A buyer who is new becomes a customer. The cost is frozen on the sale. The same key gives
    the first sale. Raises ResaleError with what is unmet, DayClosedError, PersonError,
    PhoneError, or TillError for the payment.
    """
    Stay.objects.select_for_update().get(pk=stay.pk)
    if first := Sale.objects.filter(invoice__key=str(key)).first():
        return first
    stay = _ours_and_here(stay)
    require_open(on)
    price = _price_when_ready(stay, on, timezone.localdate(at))
    line = Line(LineClass.MACHINE, str(stay.unit), Decimal(1), price)
    invoice = issue_invoice(
        customer=_buyer(customer, on), lines=[line], document="", key=str(key), on=on, by=by, at=at
    )
    if method:
        take_payment(
            invoice=invoice,
            method=method,
            amount=invoice.total if amount is None else amount,
            on=on,
            reference=reference,
            key=uuid5(key, "payment"),
            by=by,
            at=at,
        )
    end_stay(stay=stay, left=Stay.Left.SOLD, on=on, document=invoice.number, by=by)
    return Sale.objects.create(
        stay=stay,
        invoice=invoice,
        cost=costs_so_far([stay]).get(stay.pk, Decimal(0)),
        sold_on=on,
        recorded_at=at,
        recorded_by=by,
    )


def _buyer(buyer: Customer | Person, on: date) -> Customer:
    if isinstance(buyer, Customer):
        return buyer
    return buyer.known or save_customer(
        name=buyer.name,
        sort=Customer.Sort.PERSON,
        phone=buyer.phone,
        email="",
        note="",
        known_since=on,
    )


def _price_when_ready(stay: Stay, on: date, today: date) -> Decimal:
    _refuse_day(stay, on, today)
    unmet = readiness_of([stay], on)[stay.pk]
    if unmet:
        reasons = " ".join(one.sentence for one in unmet)
        raise ResaleError(
            _("This machine is not ready for sale. %(reasons)s") % {"reasons": reasons}, unmet
        )
    return stay.prices.first().price


def _refuse_day(stay: Stay, on: date, today: date) -> None:
    """A sale lies after all that was spent on the machine: its cost is frozen with it."""
    spent_on = stay.costs.aggregate(last=Max("spent_on"))["last"]
    if on < stay.came_on:
        raise ResaleError(
            _("It cannot be sold before the day it came. Correct the day."), field="on"
        )
    if spent_on and on < spent_on:
        raise ResaleError(
            _("Money was put into it on %(day)s still. A sale is not earlier than that.")
            % {"day": day(spent_on)},
            field="on",
        )
    if on > today:
        raise ResaleError(_("This day is still to come. Enter the day of the sale."), field="on")


def _ours_and_here(stay: Stay) -> Stay:
    """The stay as it stands now, locked."""
    rows = Stay.objects.select_for_update(of=["self"]).select_related("unit__model__kind")
    stay = rows.select_related("unit__model__maker").get(pk=stay.pk)
    if stay.owner_id:
        raise ResaleError(_("This machine belongs to a customer. Only our own are sold."))
    if stay.left == Stay.Left.SOLD:
        raise ResaleError(
            _("This machine was sold already, on invoice %(invoice)s.")
            % {"invoice": stay.left_document}
        )
    if stay.left_on:
        raise ResaleError(_("This machine has left us already."))
    return stay
