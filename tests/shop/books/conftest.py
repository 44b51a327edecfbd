from datetime import date, timedelta

import pytest
from django.utils import timezone

from shop.books.domain.months import Month
from tests.factories.books import Papers
from tests.factories.resale import OwnStayFactory
from tests.factories.shop import CustomerFactory, ShopProfileFactory, TaxRateFactory


@pytest.fixture
def papers(db):
    return Papers()


def write_month(papers: Papers, first: date) -> Month:
    """One document of every sort: what a workbook has to hold."""
    ShopProfileFactory()
    for line_class in ("part", "labour", "machine"):
        TaxRateFactory(line_class=line_class)
        TaxRateFactory(line_class=line_class, jurisdiction="Town", percent="0.5")
    part = papers.receive(first, 10, "21.000000").part
    papers.use(first.replace(day=5), part, 2)
    stay = OwnStayFactory(came_on=first)
    papers.cost(first, stay, "purchase", "350.00")
    papers.use(first.replace(day=6), part, 1, purpose="own", stay=stay)
    papers.cost(first.replace(day=6), stay, "labour", "45.00")
    customer = CustomerFactory(name="=Ada Marsh")
    lines = ("part", "70.00", "labour", "240.00")
    invoice = papers.bill(first.replace(day=7), *lines, customer=customer)
    papers.pay(first.replace(day=8), invoice, "100.00")
    papers.pay(first.replace(day=9), invoice, "50.00", "card")
    papers.sell(first.replace(day=20), stay, "1200.00", "416.00")
    return Month.of(first)


@pytest.fixture
def october(papers):
    return write_month(papers, date(2026, 10, 1))


@pytest.fixture
def last_month(papers):
    """The month before today's: the newest one that is over whenever the test runs."""
    return write_month(
        papers, (timezone.localdate().replace(day=1) - timedelta(days=1)).replace(day=1)
    )
