import uuid
from datetime import timedelta
from decimal import Decimal

import pytest
from django.urls import reverse
from django.utils import timezone

from shop.till.models import LabourRate, MarkUp, Payment, TaxRate
from shop.till.services import reverse_payment
from tests.factories.shop import (
    CustomerFactory,
    LabourRateFactory,
    MarkUpFactory,
    ShopProfileFactory,
    TaxRateFactory,
)
from tests.factories.units import MORNING, TODAY, PersonFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def sit(client):
    """Sign in on a seat."""

    def down(*seats):
        client.force_login(PersonFactory(seats=seats))
        return client

    return down


@pytest.fixture
def today():
    return timezone.localdate()


def typed(amount="40.00", **changes):
    on = timezone.localdate().isoformat()
    return {"key": uuid.uuid4(), "amount": amount, "method": "cash", "on": on} | changes


def test_the_invoice_is_a_paper_with_lines_taxes_payments_and_a_place_to_sign(sit, bill, pay):
    ShopProfileFactory(tax_number="AL-114")
    TaxRateFactory()
    TaxRateFactory(jurisdiction="Town", percent=Decimal("0.5"))
    invoice = bill("part", "33.00", customer=CustomerFactory(name="Ada Marsh"))
    pay(invoice, "5.00")
    page = sit("front desk").get(reverse("invoice", args=[invoice.number])).text
    for words in (
        "Quarry Street Fitness Repair",
        "AL-114",
        "Ada Marsh",
        "State: 6.875 % of $33.00",
        "Town: 0.5 % of $33.00",
        "$35.43",
        "$30.43",
        "signature",
    ):
        assert words in page


def test_an_exempt_invoice_prints_the_reason(sit, bill):
    customer = CustomerFactory(tax_exempt_reason="resale certificate 12")
    invoice = bill("part", "33.00", customer=customer)
    page = sit("accountant").get(reverse("invoice", args=[invoice.number])).text
    assert "No sales tax is charged: resale certificate 12" in page


def test_an_invoice_costs_no_more_with_more_lines(sit, bill, pay, django_assert_max_num_queries):
    TaxRateFactory()
    invoice = bill(*["part", "3.00"] * 20)
    for _ in range(5):
        pay(invoice, "1")
    client = sit("front desk")
    with django_assert_max_num_queries(10):
        client.get(reverse("invoice", args=[invoice.number]))


def test_a_number_that_no_invoice_has_is_not_found(sit):
    assert sit("front desk").get(reverse("invoice", args=["R09999"])).status_code == 404


def test_the_list_is_narrowed_to_what_is_open(sit, bill, pay):
    paid, unpaid = bill("labour", "10"), bill("labour", "20")
    pay(paid, "10")
    client = sit("front desk")
    shown = {
        standing: [
            row.number
            for row in client.get(reverse("invoice-list"), {"standing": standing}).context[
                "invoices"
            ]
        ]
        for standing in ("open", "paid", "")
    }
    assert shown == {
        "open": [unpaid.number],
        "paid": [paid.number],
        "": [unpaid.number, paid.number],
    }


def test_the_list_is_narrowed_by_days_and_text(sit, bill):
    ada = CustomerFactory(name="Ada Marsh")
    early = bill("labour", "10", on=TODAY - timedelta(days=40), customer=ada)
    late = bill("labour", "10", document="J00077")
    client = sit("accountant")

    def numbers(**asked):
        page = client.get(reverse("invoice-list"), asked)
        return [row.number for row in page.context["invoices"]]

    assert numbers(last=(TODAY - timedelta(days=1)).isoformat()) == [early.number]
    assert numbers(first=TODAY.isoformat()) == [late.number]
    assert numbers(text="marsh") == [early.number]
    assert numbers(text="J00077") == [late.number]


def test_a_day_that_is_none_is_told_at_its_field(sit, bill):
    bill("labour", "10")
    page = sit("front desk").get(reverse("invoice-list"), {"first": "soon"})
    assert "first" in page.context["filter"].form.errors
    assert not page.context["invoices"]


def test_the_lists_cost_no_more_with_more_rows(sit, bill, pay, django_assert_max_num_queries):
    for _ in range(6):
        pay(bill("labour", "10"), "4")
    client = sit("accountant")
    for name in ("invoice-list", "payment-list"):
        with django_assert_max_num_queries(8):
            assert client.get(reverse(name)).status_code == 200


def test_a_payment_is_taken_and_shown_on_the_invoice(sit, bill):
    invoice = bill("labour", "100.00")
    answer = sit("front desk").post(
        reverse("payment-add", args=[invoice.number]), typed(reference="slip 4"), follow=True
    )
    assert "Payment P00001 is taken." in answer.text
    assert "$60.00" in answer.text
    assert "slip 4" in answer.text


def test_the_form_begins_with_what_is_open(sit, bill, pay):
    invoice = bill("labour", "100.00")
    pay(invoice, "30")
    page = sit("front desk").get(reverse("payment-add", args=[invoice.number]))
    assert page.context["form"]["amount"].value() == Decimal("70.00")


@pytest.mark.parametrize(
    ("change", "field", "words"),
    [
        ({"amount": "100.01"}, "amount", "Only $100.00 is open"),
        ({"amount": "0"}, "amount", "greater than or equal"),
        ({"amount": "1.234"}, "amount", "2 decimal places"),
        ({"amount": "lots"}, "amount", "number"),
        ({"amount": "1e30"}, "amount", "digits"),
        ({"amount": "NaN"}, "amount", "number"),
        ({"method": "shells"}, "method", "shells"),
        ({"on": "2999-01-01"}, "on", "still to come"),
        ({"on": "2026-10-04"}, "amount", "cannot be older"),
        ({"key": "x"}, "key", "UUID"),
    ],
)
def test_a_wrong_payment_is_answered_at_its_field_and_not_taken(sit, bill, change, field, words):
    invoice = bill("labour", "100.00")
    answer = sit("front desk").post(reverse("payment-add", args=[invoice.number]), typed() | change)
    assert answer.status_code == 422
    assert words in str(answer.context["form"].errors[field].as_data())
    assert not Payment.objects.exists()


def test_a_double_click_takes_one_payment(sit, bill):
    invoice, said = bill("labour", "100.00"), typed("100.00")
    client = sit("front desk")
    for sentence in ("Payment P00001 is taken.", "This form was sent before"):
        answer = client.post(reverse("payment-add", args=[invoice.number]), said, follow=True)
        assert sentence in answer.text
    assert Payment.objects.count() == 1


def test_a_technician_takes_no_money(sit, bill):
    invoice = bill("labour", "100.00")
    answer = sit("technician").post(reverse("payment-add", args=[invoice.number]), typed())
    assert answer.status_code == 403
    assert not Payment.objects.exists()


def test_the_owner_reverses_a_payment_with_a_reason_once(sit, bill, pay):
    invoice = bill("labour", "100.00")
    payment = pay(invoice, "60")
    client = sit("owner")
    for _ in range(2):
        answer = client.post(
            reverse("payment-reverse", args=[payment.number]),
            {"reason": "typed twice"},
            follow=True,
        )
        assert "P00001 is reversed by P00002." in answer.text
        assert "Reverse P00001" not in answer.text
    assert Payment.objects.count() == 2


def test_a_reversal_needs_a_reason_and_is_itself_final(sit, bill, pay, person):
    payment = pay(bill("labour", "100.00"), "60")
    client = sit("owner")
    assert client.post(reverse("payment-reverse", args=[payment.number])).status_code == 422
    undone = reverse_payment(payment=payment, reason="x", on=TODAY, by=person, at=MORNING)
    answer = client.post(reverse("payment-reverse", args=[undone.number]), {"reason": "back"})
    assert answer.status_code == 422
    assert "itself a reversal" in answer.text
    assert Payment.objects.count() == 2


def test_the_front_desk_reverses_nothing(sit, bill, pay):
    payment = pay(bill("labour", "100.00"), "60")
    client = sit("front desk")
    answer = client.post(reverse("payment-reverse", args=[payment.number]), {"reason": "x"})
    assert answer.status_code == 403
    assert "Reverse" not in client.get(reverse("invoice", args=[payment.invoice.number])).text


def test_the_rates_are_shown_with_their_days_and_whose_call_they_are(sit):
    TaxRateFactory()
    LabourRateFactory()
    MarkUpFactory()
    page = sit("accountant").get(reverse("rates")).text
    for words in ("accountant", "6.875", "5 Oct 2020", "$80.00", "times 1.5"):
        assert words in page
    assert reverse("tax-rate-add") not in page


def test_an_empty_rates_page_says_what_is_missing(sit):
    page = sit("owner").get(reverse("rates")).text
    assert "nothing is taxed" in page
    assert "No labour rate stands" in page
    assert reverse("tax-rate-add") in page


def test_the_owner_adds_rates(sit, today):
    client = sit("owner")
    day = today.isoformat()
    client.post(
        reverse("tax-rate-add"),
        {
            "jurisdiction": "State",
            "line_classes": ["part", "machine"],
            "percent": "6.875",
            "from_on": day,
        },
    )
    client.post(
        reverse("labour-rate-add"),
        {"price_per_hour": "80", "cost_per_hour": "30", "from_on": day},
    )
    client.post(reverse("mark-up-add"), {"cost_from": "0", "factor": "1.5", "from_on": day})
    assert TaxRate.objects.filter(percent=Decimal("6.875"), from_on=today).count() == 2
    assert LabourRate.objects.get().price_per_hour == Decimal("80")
    assert MarkUp.objects.get().factor == Decimal("1.5")


@pytest.mark.parametrize(
    ("name", "said", "field"),
    [
        ("tax-rate-add", {"jurisdiction": "State", "line_classes": ["part"]}, "percent"),
        ("tax-rate-add", {"jurisdiction": "State", "percent": "6"}, "line_classes"),
        (
            "tax-rate-add",
            {
                "jurisdiction": "State",
                "line_classes": ["part"],
                "percent": "6",
                "until_on": "2020-01-01",
            },
            "from_on",
        ),
        ("labour-rate-add", {"price_per_hour": "-1", "cost_per_hour": "1"}, "price_per_hour"),
        ("mark-up-add", {"cost_from": "0", "factor": "0"}, "factor"),
    ],
)
def test_a_wrong_rate_is_answered_at_its_field(sit, name, said, field, today):
    answer = sit("owner").post(reverse(name), {"from_on": today.isoformat()} | said)
    assert answer.status_code == 422
    assert field in answer.context["form"].errors
    assert not TaxRate.objects.exists()


def test_the_accountant_sets_no_rate(sit):
    assert sit("accountant").post(reverse("tax-rate-add")).status_code == 403
