import uuid
from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction

from parts.days.models import Calendar
from parts.days.services import DayClosedError
from shop.till.models import Deposit, DepositEnd, Payment
from shop.till.selectors import balance, reversible
from shop.till.services import (
    TillError,
    apply_deposit,
    keep_deposit,
    return_deposit,
    reverse_payment,
    take_deposit,
)
from tests.factories.shop import CustomerFactory
from tests.factories.units import MORNING, TODAY, PersonFactory

pytestmark = pytest.mark.django_db
KEY = uuid.UUID("7d444840-9dc0-11d1-b245-5ffdce74fad2")


def take(amount="60.00", **changes):
    said = {"customer": CustomerFactory(), "method": "cash", "document": "", "on": TODAY}
    said |= {"key": KEY, "by": PersonFactory(), "at": MORNING} | changes
    return take_deposit(amount=Decimal(amount), **said)


def act(service, deposit, **changes):
    said = {"on": TODAY, "by": PersonFactory(), "at": MORNING} | changes
    return service(deposit=deposit, **said)


def test_a_deposit_has_a_number_of_its_own_and_the_same_key_takes_one():
    first = take()
    assert first.number == "A00001"
    assert take() == first
    assert Deposit.objects.count() == 1


@pytest.mark.parametrize("amount", ["0", "-5"])
def test_nothing_or_less_is_no_deposit(amount):
    with pytest.raises(TillError, match="more than nothing"):
        take(amount)


def test_a_deposit_taken_off_an_invoice_is_a_payment_of_it(bill):
    invoice = bill("machine", "100.00")
    end = act(apply_deposit, take(customer=invoice.customer), invoice=invoice)
    assert (end.how, end.invoice) == ("applied", invoice)
    assert balance(invoice) == Decimal("40.00")
    assert Payment.objects.get().get_method_display() == "deposit taken before"


def test_a_deposit_is_no_other_customers_money(bill):
    with pytest.raises(TillError, match=r"money\. Bill that customer"):
        act(apply_deposit, take(), invoice=bill("machine", "100.00"))


def test_a_deposit_above_the_invoice_is_not_taken_off(bill):
    invoice = bill("machine", "50.00")
    deposit = take(customer=invoice.customer)
    with pytest.raises(TillError, match="Only"), transaction.atomic():
        act(apply_deposit, deposit, invoice=invoice)
    assert not DepositEnd.objects.exists()


def test_a_deposit_ends_once_and_says_how():
    deposit = take()
    act(return_deposit, deposit)
    with pytest.raises(TillError, match="ended on 5 Oct 2026 already: given back"):
        act(keep_deposit, deposit, reason="as agreed")


def test_keeping_a_deposit_needs_a_reason():
    deposit = take()
    with pytest.raises(TillError, match="why the deposit is kept"):
        act(keep_deposit, deposit, reason=" ")
    assert act(keep_deposit, deposit, reason="never collected").how == "kept"


def test_a_deposit_does_not_end_before_it_was_taken():
    with pytest.raises(TillError, match="cannot end before"):
        act(return_deposit, take(), on=TODAY - timedelta(days=1))


def test_a_deposit_that_was_taken_off_is_not_reversed(bill):
    invoice = bill("machine", "100.00")
    act(apply_deposit, take(customer=invoice.customer), invoice=invoice)
    payment = Payment.objects.get()
    assert reversible([payment]) == set()
    with pytest.raises(TillError, match="not reversed"):
        reverse_payment(payment=payment, reason="x", on=TODAY, by=PersonFactory(), at=MORNING)


def test_no_deposit_moves_on_a_closed_day():
    deposit = take()
    Calendar.objects.update(closed_through=TODAY)
    with pytest.raises(DayClosedError):
        act(return_deposit, deposit)
    with pytest.raises(DayClosedError):
        take(key=uuid.uuid4())


def test_the_database_refuses_a_deposit_kept_without_a_reason():
    with pytest.raises(IntegrityError), transaction.atomic():
        DepositEnd.objects.create(
            deposit=take(),
            how="kept",
            ended_on=TODAY,
            recorded_at=MORNING,
            recorded_by=PersonFactory(),
        )
