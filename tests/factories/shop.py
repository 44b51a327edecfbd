import uuid
from decimal import Decimal

import factory
from factory.django import DjangoModelFactory

from shop.floor.models import Stay
from shop.people.models import Customer, ShopProfile
from shop.till.models import LabourRate, MarkUp, TaxRate
from shop.work.models import WorkOrder
from tests.factories.units import MORNING, TODAY, PersonFactory, UnitFactory


class ShopProfileFactory(DjangoModelFactory):
    class Meta:
        model = ShopProfile
        django_get_or_create = ["id"]

    id = 1
    name = "Quarry Street Fitness Repair"
    address = "14 Quarry Street, Aldermere"
    phone = "+12025550114"


class CustomerFactory(DjangoModelFactory):
    class Meta:
        model = Customer

    name = factory.Sequence("Customer {}".format)
    phone = factory.Sequence(lambda number: f"+1202555{100 + number % 100:04}")
    phone_digits = factory.LazyAttribute(lambda customer: customer.phone.removeprefix("+"))
    known_since = TODAY


class TaxRateFactory(DjangoModelFactory):
    class Meta:
        model = TaxRate

    jurisdiction = "State"
    line_class = "part"
    percent = Decimal("6.875")
    from_on = TODAY.replace(year=2020)


class LabourRateFactory(DjangoModelFactory):
    class Meta:
        model = LabourRate

    price_per_hour = Decimal("80")
    cost_per_hour = Decimal("30")
    from_on = TODAY.replace(year=2020)


class MarkUpFactory(DjangoModelFactory):
    class Meta:
        model = MarkUp

    cost_from = Decimal(0)
    factor = Decimal("1.5")
    from_on = TODAY.replace(year=2020)


class StayFactory(DjangoModelFactory):
    """A customer's machine here for repair; ``owner=None, came="purchase"`` makes it ours."""

    class Meta:
        model = Stay

    unit = factory.SubFactory(UnitFactory)
    owner = factory.SubFactory(CustomerFactory)
    came = "repair"
    came_on = TODAY
    came_by = factory.SubFactory(PersonFactory)


class WorkOrderFactory(DjangoModelFactory):
    class Meta:
        model = WorkOrder

    number = factory.Sequence("J{:05}".format)
    key = factory.LazyFunction(uuid.uuid4)
    purpose = "customer"
    stay = factory.SubFactory(StayFactory)
    unit = factory.SelfAttribute("stay.unit")
    owner = factory.SelfAttribute("stay.owner")
    complaint = "Stops after ten minutes."
    opened_on = TODAY
    opened_at = MORNING
    opened_by = factory.SubFactory(PersonFactory)
    state_since = MORNING
