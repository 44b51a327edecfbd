import uuid
from decimal import Decimal

import pytest

from shop.till.services import Line, issue_invoice, take_payment
from tests.factories.shop import CustomerFactory
from tests.factories.units import MORNING, TODAY, PersonFactory


@pytest.fixture
def person(db):
    return PersonFactory()


@pytest.fixture
def bill(person):
    """Issue an invoice: ``bill("part", "33.00", ...)`` takes pairs of class and price."""

    def issue(*pairs, customer=None, key=None, on=TODAY, document="J00001"):
        lines = [
            Line(line_class, f"a {line_class}", Decimal(1), Decimal(price))
            for line_class, price in zip(pairs[::2], pairs[1::2], strict=True)
        ]
        return issue_invoice(
            customer=customer or CustomerFactory(),
            lines=lines,
            document=document,
            key=key or str(uuid.uuid4()),
            on=on,
            by=person,
            at=MORNING,
        )

    return issue


@pytest.fixture
def pay(person):
    """Take a payment in cash: ``pay(invoice, "10.00")``."""

    def take(invoice, amount, key=None, on=TODAY, **changes):
        said = {"method": "cash", "reference": ""} | changes
        return take_payment(
            invoice=invoice,
            amount=Decimal(amount),
            on=on,
            key=key or uuid.uuid4(),
            by=person,
            at=MORNING,
            **said,
        )

    return take
