"""A machine is held for one customer against a deposit."""

from datetime import date, datetime
from decimal import Decimal
from uuid import UUID

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils.translation import gettext as _

from shop.floor.models import Stay
from shop.people.models import Customer
from shop.resale.models import Reservation
from shop.resale.selectors import readiness_of, reservation_of
from shop.resale.services.errors import ResaleError
from shop.resale.services.stays import customer_of, ours_and_here
from shop.till.models import DepositEnd
from shop.till.services import keep_deposit, return_deposit, take_deposit
from shop.work.services.intake import Person
from units.show.words import day, money, person


@transaction.atomic
def reserve_machine(
    *,
    stay: Stay,
    customer: Customer | Person,
    amount: Decimal,
    method: str,
    until_on: date,
    on: date,
    reference: str = "",
    key: UUID,
    by: AbstractBaseUser,
    at: datetime,
) -> Reservation:
    """Hold a machine for a customer until a day, against a deposit; the same key gives the first.

    It need not be ready yet, but what a recall may mean is not offered to anybody. Raises
    ResaleError, TillError, PersonError, PhoneError or DayClosedError.
    """
    Stay.objects.select_for_update().get(pk=stay.pk)
    if first := Reservation.objects.filter(deposit__key=key).first():
        return first
    stay = ours_and_here(stay)
    _refuse_reserving(stay, amount, until_on, on)
    buyer = customer_of(customer, on)
    deposit = take_deposit(
        customer=buyer,
        amount=amount,
        method=method,
        document=f"{stay.unit}"[:40],
        on=on,
        reference=reference,
        key=key,
        by=by,
        at=at,
    )
    return Reservation.objects.create(
        stay=stay,
        customer=buyer,
        deposit=deposit,
        until_on=until_on,
        reserved_at=at,
        reserved_by=by,
    )


def _refuse_reserving(stay: Stay, amount: Decimal, until_on: date, on: date) -> None:
    if held := reservation_of(stay):
        raise ResaleError(
            _("It is reserved for %(customer)s until %(day)s already, written by %(person)s.")
            % {
                "customer": held.customer,
                "day": day(held.until_on),
                "person": person(held.reserved_by),
            }
        )
    if until_on < on:
        raise ResaleError(_("It is held until a day to come. Correct the day."), field="until_on")
    asked = stay.prices.first()
    if asked and amount > asked.price:
        raise ResaleError(
            _("We ask %(price)s for it, before tax. A deposit is not more than that.")
            % {"price": money(asked.price)},
            field="amount",
        )
    recalls = [one for one in readiness_of([stay], on)[stay.pk] if one.key in RECALLS]
    if recalls:
        raise ResaleError(" ".join(one.sentence for one in recalls), recalls)


RECALLS = frozenset({"recall-open", "recall-confirmed", "recall-fits", "recall-unsure"})


@transaction.atomic
def release_reservation(
    *,
    reservation: Reservation,
    keep: bool,
    reason: str,
    on: date,
    by: AbstractBaseUser,
    at: datetime,
) -> DepositEnd:
    """Let a reserved machine go: the deposit goes back, or is kept for a reason.

    Raises ResaleError when it is over already, TillError or DayClosedError.
    """
    reservation = hold_reservation(reservation)
    end_reservation(reservation=reservation, by=by, at=at)
    service = keep_deposit if keep else return_deposit
    return service(deposit=reservation.deposit, reason=reason, on=on, by=by, at=at)


def hold_reservation(reservation: Reservation) -> Reservation:
    """The reservation, locked with its machine, if it is not over. Raises ResaleError."""
    Stay.objects.select_for_update().get(pk=reservation.stay_id)
    rows = Reservation.objects.select_related("customer", "deposit", "over_by")
    reservation = rows.get(pk=reservation.pk)
    if reservation.over_at:
        raise ResaleError(
            _("This reservation is over already, ended by %(person)s.")
            % {"person": person(reservation.over_by)}
        )
    return reservation


def end_reservation(*, reservation: Reservation, by: AbstractBaseUser, at: datetime) -> None:
    """It is over; what becomes of its deposit is said by whoever ends it."""
    reservation.over_at, reservation.over_by = at, by
    reservation.save(update_fields=["over_at", "over_by"])
