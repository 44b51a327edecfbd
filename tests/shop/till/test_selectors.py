from decimal import Decimal

import pytest

from shop.till.domain.pricing import MarkUpStep, PriceRules
from shop.till.domain.tax import Rate
from shop.till.models import Invoice
from shop.till.selectors import (
    balances,
    invoice_paper,
    price_rules,
    rates_page,
    reversible,
    tax_rates,
)
from shop.till.services import TillError, reverse_payment
from tests.factories.shop import LabourRateFactory, MarkUpFactory, TaxRateFactory
from tests.factories.units import MORNING, TODAY

pytestmark = pytest.mark.django_db


def test_the_price_rules_of_a_day_are_read_whole():
    LabourRateFactory()
    MarkUpFactory()
    MarkUpFactory(cost_from=Decimal("100"), factor=Decimal("1.3"))
    assert price_rules(TODAY) == PriceRules(
        Decimal("80"),
        Decimal("30"),
        (MarkUpStep(Decimal("100"), Decimal("1.3")), MarkUpStep(Decimal(0), Decimal("1.5"))),
    )


def test_without_a_labour_rate_there_is_a_sentence_and_no_price():
    MarkUpFactory()
    with pytest.raises(TillError, match="No labour rate"):
        price_rules(TODAY)


def test_without_a_mark_up_from_nothing_there_is_a_sentence_and_no_price():
    LabourRateFactory()
    MarkUpFactory(cost_from=Decimal("100"))
    with pytest.raises(TillError, match="No mark-up from cost 0"):
        price_rules(TODAY)


def test_tax_rates_are_plain_values():
    TaxRateFactory()
    assert tax_rates(TODAY) == [Rate("State", "part", Decimal("6.875"))]


def test_balances_of_many_invoices_are_one_query(bill, pay, django_assert_num_queries):
    paid, part_paid, unpaid = (bill("labour", "100") for _ in range(3))
    pay(paid, "40")
    pay(paid, "60")
    pay(part_paid, "40")
    with django_assert_num_queries(1):
        found = balances([paid, part_paid, unpaid])
    assert found == {paid.pk: Decimal(0), part_paid.pk: Decimal("60"), unpaid.pk: Decimal("100")}


def test_open_and_paid_up_part_all_invoices(bill, pay):
    paid, part_paid, free = bill("labour", "100"), bill("labour", "100"), bill("labour", "0")
    pay(paid, "100")
    pay(part_paid, "40")
    assert list(Invoice.objects.open()) == [part_paid]
    assert set(Invoice.objects.paid_up()) == {paid, free}


def test_an_invoice_with_lines_taxes_and_payments_is_four_queries(
    bill, pay, django_assert_num_queries
):
    TaxRateFactory()
    invoice = bill("part", "10", "part", "20", "labour", "30")
    pay(invoice, "1")
    pay(invoice, "2")
    with django_assert_num_queries(4):
        paper = invoice_paper().get(number=invoice.number)
        assert len(paper.lines.all()) == 3
        assert [tax.jurisdiction for tax in paper.taxes.all()] == ["State"]
        assert len(paper.payments.all()) == 2
        assert (paper.paid, paper.customer.name) == (Decimal("3"), invoice.customer.name)


def test_the_rates_page_shows_what_stands_apart_from_what_will():
    TaxRateFactory()
    TaxRateFactory(percent=Decimal("7"), from_on=TODAY.replace(year=2027))
    page = rates_page(TODAY)
    assert [rate.percent for rate in page["taxes"]] == [Decimal("6.875")]
    assert [rate.percent for rate in page["all_taxes"]] == [Decimal("7"), Decimal("6.875")]


def test_a_payment_can_be_reversed_until_it_is(bill, pay, person):
    invoice = bill("labour", "100")
    undone, kept = pay(invoice, "40"), pay(invoice, "50")
    reverse_payment(payment=undone, reason="typed twice", on=TODAY, by=person, at=MORNING)
    assert reversible(invoice.payments.all()) == {kept.number}
