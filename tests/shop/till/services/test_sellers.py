"""Money to sellers, and what of it is held back."""

import uuid
from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction

from parts.days.models import Calendar
from parts.days.services import DayClosedError
from shop.till.models import Holdback, HoldbackEnd, SellerPayment
from shop.till.selectors import discharged, holdbacks
from shop.till.services import (
    Bought,
    Ending,
    Paying,
    TillError,
    end_holdback,
    hold_back,
    pay_seller,
    take_back_payment,
)
from tests.factories.shop import CustomerFactory
from tests.factories.units import MORNING, TODAY, PersonFactory

pytestmark = pytest.mark.django_db
KEY = uuid.UUID("7d444840-9dc0-11d1-b245-5ffdce74fad2")


@pytest.fixture
def bought():
    return Bought(CustomerFactory(name="Millrace Athletic"), "B00001")


def said(**changes):
    return {"on": TODAY, "key": uuid.uuid4(), "by": PersonFactory(), "at": MORNING} | changes


def pay(bought, amount="900.00", service=pay_seller, method="check", **changes):
    paying = Paying(method, "no. 17")
    return service(bought=bought, amount=Decimal(amount), paying=paying, **said(**changes))


def hold(bought, amount="200.00", reason="the bank's claim", **changes):
    return hold_back(bought=bought, amount=Decimal(amount), reason=reason, **said(**changes))


def end(held, how, amount, reason="the bank's letter", **changes):
    ending = Ending(how, Decimal(amount), reason, Paying("cash"))
    return end_holdback(holdback=held, ending=ending, **said(**changes))


def test_the_same_key_pays_a_seller_once(bought):
    first = pay(bought, key=KEY)
    assert (first.number, first.amount, first.method) == ("V00001", Decimal("900.00"), "check")
    assert pay(bought, key=KEY) == first
    assert SellerPayment.objects.count() == 1


def test_what_comes_back_is_at_most_what_was_paid(bought):
    pay(bought)
    with pytest.raises(TillError, match=r"paid \$900.00 in all"):
        pay(bought, "900.01", take_back_payment)
    back = pay(bought, "150.00", take_back_payment, key=KEY)
    assert (back.amount, back.came_back) == (Decimal("-150.00"), True)
    assert pay(bought, "150.00", take_back_payment, key=KEY) == back
    assert discharged(["B00001"]) == {"B00001": Decimal("750.00")}


@pytest.mark.parametrize("service", [pay_seller, take_back_payment])
def test_nothing_is_paid_below_nothing(bought, service):
    with pytest.raises(TillError):
        pay(bought, "-1.00", service)


@pytest.mark.parametrize(("amount", "reason"), [("0.00", "a claim"), ("5.00", " ")])
def test_what_is_held_back_says_how_much_and_for_what(bought, amount, reason):
    with pytest.raises(TillError, match="Say how much"):
        hold(bought, amount, reason)


def test_money_held_back_ends_in_parts_and_never_twice(bought):
    held = hold(bought)
    assert held.number == "H00001"
    first = end(held, "released", "150.00", key=KEY)
    assert (first.payment.amount, first.payment.method) == (Decimal("150.00"), "cash")
    assert end(held, "released", "150.00", key=KEY) == first
    with pytest.raises(TillError, match=r"\$50.00 is still held back"):
        end(held, "kept", "50.01")
    end(held, "kept", "50.00")
    with pytest.raises(TillError, match="settled already"):
        end(held, "kept", "50.00")
    assert (HoldbackEnd.objects.count(), SellerPayment.objects.count()) == (2, 1)


@pytest.mark.parametrize(
    ("how", "left"), [("released", "1100.00"), ("kept", "1100.00"), ("taken-off", "900.00")]
)
def test_what_is_discharged_after_each_end(bought, how, left):
    """Paid 900 and held 200: only what is set off no longer counts towards the price."""
    pay(bought)
    end(hold(bought), how, "200.00")
    assert discharged() == {"B00001": Decimal(left)}


def test_an_end_says_why_and_does_not_come_before_the_beginning(bought):
    held = hold(bought)
    with pytest.raises(TillError, match="Write down why"):
        end(held, "kept", "5.00", reason=" ")
    with pytest.raises(TillError, match="cannot be settled before"):
        end(held, "kept", "5.00", on=TODAY - timedelta(days=1))


def test_what_is_left_is_told_with_each(bought):
    end(hold(bought), "kept", "50.00")
    (one,) = holdbacks("B00001")
    assert (one.ended, one.left, len(one.ends.all())) == (Decimal(50), Decimal(150), 1)


def test_no_money_moves_in_closed_days(bought):
    held = hold(bought)
    Calendar.objects.update(closed_through=TODAY)
    for act in (
        lambda: pay(bought),
        lambda: hold(bought),
        lambda: end(held, "kept", "5.00"),
        lambda: pay(bought, "1.00", take_back_payment),
    ):
        with pytest.raises(DayClosedError):
            act()


def test_the_database_refuses_what_no_service_writes(bought):
    held = hold(bought)
    row = {"holdback": held, "key": KEY, "amount": 5, "reason": "why", "ended_on": TODAY}
    row |= {"recorded_at": MORNING, "recorded_by": PersonFactory()}
    for wrong in ({"how": "released"}, {"how": "kept", "amount": 0}, {"how": "kept", "reason": ""}):
        with pytest.raises(IntegrityError), transaction.atomic():
            HoldbackEnd.objects.create(**row | wrong)
    with pytest.raises(IntegrityError), transaction.atomic():
        Holdback.objects.filter(pk=held.pk).update(amount=1)
