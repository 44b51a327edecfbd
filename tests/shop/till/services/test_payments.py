import uuid
from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from parts.days.models import Calendar
from parts.days.services import DayClosedError
from shop.till.models import Payment
from shop.till.selectors import balance
from shop.till.services import TillError, reverse_payment
from tests.factories.units import MORNING, TODAY

pytestmark = pytest.mark.django_db


@pytest.fixture
def reverse(person):
    def undo(payment, on=TODAY, reason="typed twice"):
        return reverse_payment(payment=payment, reason=reason, on=on, by=person, at=MORNING)

    return undo


def test_payments_lower_what_is_open_to_nothing(bill, pay):
    invoice = bill("labour", "100.00")
    assert pay(invoice, "99.99").number == "P00001"
    assert balance(invoice) == Decimal("0.01")
    pay(invoice, "0.01")
    assert balance(invoice) == Decimal("0.00")


@pytest.mark.parametrize(("amount", "sentence"), [("100.01", r"Only \$100\.00"), ("1000", "Only")])
def test_more_than_is_open_is_refused_and_says_how_much_is(bill, pay, amount, sentence):
    invoice = bill("labour", "100.00")
    with pytest.raises(TillError, match=sentence):
        pay(invoice, amount)
    assert not Payment.objects.exists()


def test_a_paid_invoice_takes_no_second_payment(bill, pay):
    invoice = bill("labour", "100.00")
    pay(invoice, "100")
    with pytest.raises(TillError, match="paid already"):
        pay(invoice, "1")


@pytest.mark.parametrize("amount", ["0", "-5"])
def test_nothing_or_less_is_no_payment(bill, pay, amount):
    with pytest.raises(TillError, match="above nothing"):
        pay(bill("labour", "100.00"), amount)


def test_a_payment_older_than_its_invoice_is_refused(bill, pay):
    with pytest.raises(TillError, match="cannot be older"):
        pay(bill("labour", "100.00"), "10", on=TODAY - timedelta(days=1))


def test_the_same_key_gives_the_first_payment_even_when_all_is_paid(bill, pay):
    invoice, key = bill("labour", "100.00"), uuid.uuid4()
    first = pay(invoice, "100", key=key)
    assert pay(invoice, "100", key=key) == first
    assert Payment.objects.count() == 1


def test_a_closed_day_takes_no_payment(bill, pay):
    invoice = bill("labour", "100.00")
    Calendar.objects.update(closed_through=TODAY)
    with pytest.raises(DayClosedError):
        pay(invoice, "10")


def test_a_reversal_opens_the_invoice_again_and_names_what_it_undoes(bill, pay, reverse):
    invoice = bill("labour", "100.00")
    payment = pay(invoice, "60", method="card")
    undone = reverse(payment)
    assert (undone.amount, undone.method) == (Decimal("-60"), "card")
    assert undone.reference == "reverses P00001: typed twice"
    assert balance(invoice) == Decimal("100.00")


def test_a_payment_is_reversed_once_however_often_it_is_asked(bill, pay, reverse):
    payment = pay(bill("labour", "100.00"), "60")
    assert reverse(payment) == reverse(payment, reason="again")
    assert Payment.objects.count() == 2


def test_a_reversal_is_not_reversed(bill, pay, reverse):
    undone = reverse(pay(bill("labour", "100.00"), "60"))
    with pytest.raises(TillError, match="itself a reversal"):
        reverse(undone)


def test_a_reversal_is_not_older_than_its_payment(bill, pay, reverse):
    payment = pay(bill("labour", "100.00"), "60", on=TODAY + timedelta(days=2))
    with pytest.raises(TillError, match="cannot be older"):
        reverse(payment)


def test_a_payment_cannot_be_deleted_even_past_the_service(bill, pay):
    pay(bill("labour", "100.00"), "60")
    with pytest.raises(IntegrityError, match="only grows"), transaction.atomic():
        Payment.objects.all().delete()


@given(cents=st.lists(st.integers(-500, 8_000), min_size=1, max_size=6), undone=st.integers(0, 5))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=25)
def test_payments_never_come_to_more_than_the_invoice(bill, pay, reverse, cents, undone):
    invoice = bill("labour", "100.00")
    for place, amount in enumerate(cents):
        try:
            payment = pay(invoice, Decimal(amount).scaleb(-2))
        except TillError:
            continue
        if place == undone:
            reverse(payment)
        assert Decimal(0) <= balance(invoice) <= invoice.total
