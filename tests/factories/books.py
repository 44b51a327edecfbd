"""A month of papers, written through the services that a shop uses."""

import uuid
from datetime import date, datetime
from decimal import Decimal
from itertools import count

from django.conf import settings
from django.utils import timezone

from parts.stock.services import issue_stock, receive_stock
from shop.books.services import load_reference
from shop.floor.services import add_cost, end_stay
from shop.resale.models import Disposal, Sale
from shop.till.domain.pricing import Line
from shop.till.services import issue_invoice, take_deposit, take_payment
from shop.work.models import PartUse
from tests.factories.parts import BinFactory, PartFactory
from tests.factories.resale import OwnStayFactory
from tests.factories.shop import CustomerFactory, WorkOrderFactory
from tests.factories.units import PersonFactory


def load_accounts():
    load_reference(settings.BASE_DIR / "fixtures" / "reference")


class Papers:
    """Writes documents on one day after another."""

    def __init__(self):
        load_accounts()
        self.person = PersonFactory()
        self._numbers = count(1)

    def _at(self, on: date) -> datetime:
        return timezone.make_aware(datetime.combine(on, datetime.min.time().replace(hour=12)))

    def bill(self, on, *pairs, customer=None, document="J00001"):
        """``bill(day, "part", "42", "labour", "80")``: lines of a class and a price."""
        pairs = zip(pairs[::2], pairs[1::2], strict=True)
        lines = [Line(name, f"a {name}", Decimal(1), Decimal(price)) for name, price in pairs]
        return issue_invoice(
            customer=customer or CustomerFactory(),
            lines=lines,
            document=document,
            key=str(uuid.uuid4()),
            on=on,
            by=self.person,
            at=self._at(on),
        )

    def pay(self, on, invoice, amount, method="cash"):
        return take_payment(
            invoice=invoice,
            method=method,
            amount=Decimal(amount),
            on=on,
            reference="",
            key=uuid.uuid4(),
            by=self.person,
            at=self._at(on),
        )

    def receive(self, on, quantity, unit_cost, part=None):
        return receive_stock(
            part=part or PartFactory(),
            bin=BinFactory(),
            quantity=Decimal(quantity),
            unit_cost=Decimal(unit_cost),
            on=on,
            document=f"D{next(self._numbers):05}",
            by=self.person,
            at=self._at(on),
        )

    def use(self, on, part, quantity=1, purpose="customer", stay=None):
        """Take a part for a job; for a machine of ours its cost goes into the machine."""
        own = purpose == "own"
        job = WorkOrderFactory(
            purpose=purpose, **({"stay": stay or OwnStayFactory(), "owner": None} if own else {})
        )
        move = issue_stock(
            part=part,
            quantity=Decimal(quantity),
            reason="used",
            on=on,
            document=job.number,
            by=self.person,
            at=self._at(on),
        )
        use = PartUse.objects.create(
            job=job, key=uuid.uuid4(), move=move, unit_price=Decimal("70.00")
        )
        if own:
            self.cost(on, job.stay, "parts", -move.cost)
        return use

    def cost(self, on, stay, sort, amount):
        number = next(self._numbers)
        return add_cost(
            stay=stay,
            sort=sort,
            amount=Decimal(amount),
            on=on,
            document=f"B{number:05}",
            key=f"cost of test {number}",
            by=self.person,
            at=self._at(on),
        )

    def sell(self, on, stay, price, cost):
        invoice = self.bill(on, "machine", price, document="")
        end_stay(stay=stay, left="sold", on=on, document=invoice.number, by=self.person)
        return Sale.objects.create(
            stay=stay,
            invoice=invoice,
            cost=Decimal(cost),
            sold_on=on,
            recorded_at=self._at(on),
            recorded_by=self.person,
        )

    def give_away(self, on, stay, how, cost):
        number = f"G{next(self._numbers):05}"
        end_stay(stay=stay, left=how, on=on, document=number, by=self.person)
        return Disposal.objects.create(
            stay=stay,
            number=number,
            key=uuid.uuid4(),
            taker="a school",
            reason="no room",
            cost=Decimal(cost),
            gone_on=on,
            recorded_at=self._at(on),
            recorded_by=self.person,
        )

    def deposit(self, on, amount, customer=None, method="cash"):
        return take_deposit(
            customer=customer or CustomerFactory(),
            amount=Decimal(amount),
            method=method,
            document="",
            on=on,
            key=uuid.uuid4(),
            by=self.person,
            at=self._at(on),
        )

    def end_deposit(self, on, deposit, how, **said):
        """``how`` is one of the services that end a deposit."""
        return how(deposit=deposit, on=on, by=self.person, at=self._at(on), **said)
