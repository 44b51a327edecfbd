from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from parts.days.models import Calendar
from parts.days.services import DayClosedError
from shop.till.models import Invoice, TaxRate
from shop.till.services import Line, TillError, issue_invoice
from tests.factories.shop import CustomerFactory, TaxRateFactory
from tests.factories.units import MORNING, TODAY
from units.rows.models import NumberSeries

pytestmark = pytest.mark.django_db


def test_an_invoice_freezes_lines_taxes_and_total(bill):
    TaxRateFactory(percent=Decimal("6.875"), position=1)
    TaxRateFactory(jurisdiction="Town", percent=Decimal("0.5"), position=2)
    invoice = bill("part", "33.00", "labour", "80.00")
    invoice.refresh_from_db()
    assert (invoice.net, invoice.tax, invoice.total) == (
        Decimal("113.00"),
        Decimal("2.43"),
        Decimal("115.43"),
    )
    assert [(line.position, line.line_class, line.net) for line in invoice.lines.all()] == [
        (1, "part", Decimal("33.00")),
        (2, "labour", Decimal("80.00")),
    ]
    assert [(tax.jurisdiction, tax.taxable, tax.tax) for tax in invoice.taxes.all()] == [
        ("State", Decimal("33.00"), Decimal("2.27")),
        ("Town", Decimal("33.00"), Decimal("0.16")),
    ]


def test_invoices_are_numbered_one_after_another(bill):
    assert [bill("part", "1").number, bill("part", "1").number] == ["R00001", "R00002"]


def test_the_rates_of_its_day_are_used(bill):
    TaxRateFactory(percent=Decimal("5"))
    TaxRateFactory(percent=Decimal("8"), from_on=TODAY)
    assert bill("part", "100", on=TODAY - timedelta(days=1)).tax == Decimal("5.00")
    assert bill("part", "100").tax == Decimal("8.00")


def test_a_later_rate_leaves_an_invoice_as_it_was(bill):
    rate = TaxRateFactory(percent=Decimal("5"))
    invoice = bill("part", "100")
    rate.percent = Decimal("9")
    rate.save()
    invoice.refresh_from_db()
    assert invoice.total == Decimal("105.00")


def test_an_exempt_customer_pays_no_tax_and_the_reason_stays(bill):
    TaxRateFactory()
    customer = CustomerFactory(tax_exempt_reason="resale certificate 12")
    invoice = bill("part", "100", customer=customer)
    assert (invoice.tax, invoice.total) == (Decimal(0), Decimal("100.00"))
    assert invoice.tax_exempt_reason == "resale certificate 12"
    assert not invoice.taxes.exists()


def test_the_same_key_gives_the_first_invoice(bill):
    first = bill("part", "10", key="J00001 hand back")
    assert bill("part", "99", key="J00001 hand back") == first
    assert Invoice.objects.count() == 1


@pytest.mark.parametrize(
    ("lines", "sentence"),
    [
        ([], "at least one line"),
        ([Line("part", "belt", Decimal(0), Decimal(10))], "no quantity"),
        ([Line("part", "belt", Decimal(-1), Decimal(10))], "no quantity"),
        (
            [
                Line("part", "belt", Decimal(1), Decimal(10)),
                Line("fee", "off", Decimal(1), Decimal(-11)),
            ],
            "less than nothing",
        ),
    ],
)
def test_what_cannot_be_billed_is_refused_and_takes_no_number(person, lines, sentence):
    with pytest.raises(TillError, match=sentence), transaction.atomic():
        issue_invoice(
            customer=CustomerFactory(),
            lines=lines,
            document="J00001",
            key="one",
            on=TODAY,
            by=person,
            at=MORNING,
        )
    assert not Invoice.objects.exists()
    assert not NumberSeries.objects.filter(name="invoice", last__gt=0).exists()


def test_a_class_that_nobody_knows_does_not_slip_through_untaxed(bill):
    with pytest.raises(ValueError, match="gift"):
        bill("gift", "10")


def test_a_closed_day_takes_no_invoice(bill):
    Calendar.objects.update(closed_through=TODAY)
    with pytest.raises(DayClosedError):
        bill("part", "10")


def test_an_invoice_cannot_be_changed_even_past_the_service(bill):
    invoice = bill("part", "10")
    with pytest.raises(IntegrityError, match="only grows"), transaction.atomic():
        Invoice.objects.filter(pk=invoice.pk).update(document="J00009")


PRICES = st.lists(
    st.tuples(
        st.sampled_from(["part", "labour", "machine", "trip", "fee"]),
        st.integers(0, 999_999).map(lambda cents: Decimal(cents).scaleb(-2)),
        st.integers(1, 9_999).map(lambda mils: Decimal(mils).scaleb(-3)),
    ),
    min_size=1,
    max_size=6,
)


@given(lines=PRICES)
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=25)
def test_every_invoice_adds_up(person, lines):
    TaxRate.objects.all().delete()
    TaxRateFactory(percent=Decimal("6.875"))
    TaxRateFactory(jurisdiction="Town", percent=Decimal("0.5"))
    TaxRateFactory(line_class="labour", percent=Decimal("3.1"))
    invoice = issue_invoice(
        customer=CustomerFactory(),
        lines=[Line(kind, "a line", quantity, price) for kind, price, quantity in lines],
        document="",
        key=str(Invoice.objects.count()),
        on=TODAY,
        by=person,
        at=MORNING,
    )
    assert invoice.total == invoice.net + invoice.tax
    assert invoice.net == sum(line.net for line in invoice.lines.all())
    assert invoice.tax == sum(tax.tax for tax in invoice.taxes.all())
