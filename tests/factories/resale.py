from datetime import timedelta
from decimal import Decimal
from uuid import uuid4

import factory
from factory.django import DjangoModelFactory

from parts.answers.models import Answer, FreshnessRule
from shop.floor.models import MachineCost, Stay
from shop.resale.models import AskingPrice, Grading
from shop.resale.selectors import exits
from shop.resale.services import attach_paper
from tests.factories.parts import AnswerFactory
from tests.factories.shop import StayFactory
from tests.factories.units import (
    MORNING,
    TODAY,
    InspectionFactory,
    MachineModelFactory,
    PersonFactory,
    PlateRecordFactory,
    ProtocolFactory,
    RecallCheckFactory,
    StoredFileFactory,
    UnitFactory,
)
from units.catalogue.models import UnitPhoto


class OwnStayFactory(StayFactory):
    """A machine of our own that stands here."""

    owner = None
    came = "purchase"


class GradingFactory(DjangoModelFactory):
    class Meta:
        model = Grading

    stay = factory.SubFactory(OwnStayFactory)
    grade = "B"
    cleaned = True
    safety_key_present = True
    graded_at = MORNING
    graded_by = factory.SubFactory(PersonFactory)


class AskingPriceFactory(DjangoModelFactory):
    class Meta:
        model = AskingPrice

    stay = factory.SubFactory(OwnStayFactory)
    price = Decimal("1200.00")
    floor = Decimal("900.00")
    set_at = MORNING
    set_by = factory.SubFactory(PersonFactory)


class MachineCostFactory(DjangoModelFactory):
    class Meta:
        model = MachineCost

    stay = factory.SubFactory(OwnStayFactory)
    sort = "purchase"
    amount = Decimal("350.00")
    spent_on = TODAY
    document = "B00001"
    key = factory.Sequence("cost {}".format)
    recorded_at = MORNING
    recorded_by = factory.SubFactory(PersonFactory)


def finished_inspection(unit, occasion, at=MORNING, asked=None):
    slug = f"{unit.model.kind_id}-{occasion}"
    protocol = ProtocolFactory._meta.model.objects.filter(slug=slug).first()
    protocol = protocol or ProtocolFactory(slug=slug, kind=unit.model.kind, occasion=occasion)
    return InspectionFactory(
        unit=unit,
        protocol=protocol,
        asked=asked,
        opened_at=at - timedelta(minutes=30),
        finished_at=at,
        finished_by=PersonFactory(),
    )


def sale_photo(unit):
    return UnitPhoto.objects.create(
        unit=unit,
        file=StoredFileFactory(),
        shows="sale",
        taken_at=MORNING,
        taken_by=PersonFactory(),
    )


def ready_stay(on=TODAY) -> Stay:
    """A machine of our own that meets every condition of a retail sale on ``on``."""
    FreshnessRule.objects.get_or_create(channel="phone", defaults={"days": 180})
    stay = OwnStayFactory(unit=UnitFactory(model=MachineModelFactory(volts=120, plug="5-15")))
    unit = stay.unit
    PlateRecordFactory(unit=unit)
    RecallCheckFactory(unit=unit, checked_on=on)
    finished_inspection(unit, "arrival")
    finished_inspection(unit, "final", MORNING + timedelta(hours=3))
    AnswerFactory(model=unit.model, given_on=on, status=Answer.Status.SUPPORTED)
    GradingFactory(stay=stay)
    sale_photo(unit)
    AskingPriceFactory(stay=stay)
    MachineCostFactory(stay=stay)
    attach(stay, on=on)
    return stay


def attach(stay, way="retail", on=TODAY, at=MORNING):
    """Its terms and faults in writing, as they are known on that day."""
    return attach_paper(stay=stay, way=exits()[way], key=uuid4(), on=on, by=PersonFactory(), at=at)
