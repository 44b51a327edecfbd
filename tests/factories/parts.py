from decimal import Decimal

import factory
from factory.django import DjangoModelFactory

from parts.answers.models import Answer
from parts.buying.models import Supplier
from parts.fits.models import Fit, Part, Sister, Supersession
from parts.stock.models import Bin
from tests.factories.units import (
    MORNING,
    TODAY,
    ComponentFactory,
    MachineModelFactory,
    MakerFactory,
    PersonFactory,
)


class PartFactory(DjangoModelFactory):
    class Meta:
        model = Part

    maker = factory.SubFactory(MakerFactory)
    number = factory.Sequence("CV-{:04}".format)
    key = factory.LazyAttribute(lambda part: part.number.replace("-", ""))
    name = "running belt 3000 x 510"
    component = factory.SubFactory(ComponentFactory)


class FitFactory(DjangoModelFactory):
    class Meta:
        model = Fit

    part = factory.SubFactory(PartFactory)
    model = factory.SubFactory(MachineModelFactory)
    quantity = Decimal(1)
    evidence = "maker's parts list"
    recorded_at = MORNING
    recorded_by = factory.SubFactory(PersonFactory)


class AnswerFactory(DjangoModelFactory):
    class Meta:
        model = Answer

    model = factory.SubFactory(MachineModelFactory)
    status = "supported"
    given_on = TODAY
    given_by = "parts desk"
    channel = "phone"
    recorded_at = MORNING
    recorded_by = factory.SubFactory(PersonFactory)


class BinFactory(DjangoModelFactory):
    class Meta:
        model = Bin
        django_get_or_create = ["name"]

    name = "A1"


class SupplierFactory(DjangoModelFactory):
    class Meta:
        model = Supplier
        django_get_or_create = ["name"]

    name = "Corvane parts desk"


class SupplierPriceFactory(DjangoModelFactory):
    """What a supplier asks for a part: an answer of its list."""

    class Meta:
        model = Answer

    part = factory.SubFactory(PartFactory)
    route = "supplier"
    party = "Corvane parts desk"
    status = "supported"
    cost = Decimal("80")
    lead_days = 5
    given_on = TODAY
    given_by = factory.SelfAttribute("party")
    channel = "listing"
    recorded_at = MORNING
    recorded_by = factory.SubFactory(PersonFactory)


class SupersessionFactory(DjangoModelFactory):
    class Meta:
        model = Supersession

    part = factory.SubFactory(PartFactory)
    replaced_by = factory.SubFactory(PartFactory)
    on = TODAY
    evidence = "maker's notice"
    recorded_at = MORNING
    recorded_by = factory.SubFactory(PersonFactory)


class SisterFactory(DjangoModelFactory):
    """Two models that share everything; the one made first stands first."""

    class Meta:
        model = Sister

    model = factory.SubFactory(MachineModelFactory)
    other = factory.SubFactory(MachineModelFactory)
    evidence = "same parts list"
    recorded_at = MORNING
    recorded_by = factory.SubFactory(PersonFactory)
