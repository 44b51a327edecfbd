from datetime import UTC, datetime
from decimal import Decimal

import factory
from django.contrib.auth import get_user_model
from django.contrib.auth.models import Group
from factory.django import DjangoModelFactory

from units.catalogue.models import Component, Kind, KindComponent, MachineModel, Maker, Unit
from units.files.models import StoredFile
from units.inspections.models import Inspection, Protocol, ProtocolStep
from units.plates.domain.proposal import Candidate, FieldName, Outcome, Proposal, ReadField
from units.plates.models import PlateReading, PlateRecord, PlateWalk
from units.recalls.models import RecallCheck

MORNING = datetime(2026, 10, 5, 9, 0, tzinfo=UTC)
TODAY = MORNING.date()


class PersonFactory(DjangoModelFactory):
    """A member of staff; ``seats=["technician"]`` puts him in groups."""

    class Meta:
        model = get_user_model()
        skip_postgeneration_save = True

    username = factory.Sequence("person{}".format)
    first_name = "Robin"
    last_name = factory.Sequence("Staff{}".format)

    @factory.post_generation
    def seats(self, create, extracted, **kwargs):
        for name in extracted or []:
            self.groups.add(Group.objects.get_or_create(name=name)[0])


class KindFactory(DjangoModelFactory):
    class Meta:
        model = Kind
        django_get_or_create = ["slug"]

    slug = "treadmill"
    name = factory.SelfAttribute("slug")
    position = 1
    has_safety_key = factory.LazyAttribute(lambda kind: kind.slug == "treadmill")
    has_cord = factory.LazyAttribute(lambda kind: kind.slug == "treadmill")


class ComponentFactory(DjangoModelFactory):
    class Meta:
        model = Component
        django_get_or_create = ["slug"]

    slug = "running-belt"
    name = factory.LazyAttribute(lambda component: component.slug.replace("-", " "))


class KindComponentFactory(DjangoModelFactory):
    class Meta:
        model = KindComponent
        django_get_or_create = ["kind", "component"]

    kind = factory.SubFactory(KindFactory)
    component = factory.SubFactory(ComponentFactory)
    position = 1


class MakerFactory(DjangoModelFactory):
    class Meta:
        model = Maker
        django_get_or_create = ["key"]

    name = "Corvane"
    key = factory.LazyAttribute(lambda maker: maker.name.upper())


class MachineModelFactory(DjangoModelFactory):
    class Meta:
        model = MachineModel

    maker = factory.SubFactory(MakerFactory)
    number = factory.Sequence("TR-{}".format)
    key = factory.LazyAttribute(lambda model: model.number.upper().replace("-", ""))
    kind = factory.SubFactory(KindFactory)
    grade = "residential"
    confirmed = True


class UnitFactory(DjangoModelFactory):
    class Meta:
        model = Unit

    model = factory.SubFactory(MachineModelFactory)
    maker = factory.SelfAttribute("model.maker")
    serial = factory.Sequence("CV{:06}".format)
    serial_key = factory.SelfAttribute("serial")
    first_seen_at = MORNING
    first_seen_by = factory.SubFactory(PersonFactory)


class StoredFileFactory(DjangoModelFactory):
    """A row only: no bytes stand behind it."""

    class Meta:
        model = StoredFile

    audience = "bench"
    original_name = "plate.jpg"
    original_digest = factory.Sequence("{:064x}".format)
    media_type = "image/jpeg"
    path = factory.Sequence("nowhere/{}.jpg".format)
    size = 1000
    width = 40
    height = 30
    stored_at = MORNING
    stored_by = factory.SubFactory(PersonFactory)


class PlateRecordFactory(DjangoModelFactory):
    class Meta:
        model = PlateRecord

    unit = factory.SubFactory(UnitFactory)
    photo = factory.SubFactory(StoredFileFactory)
    maker_text = factory.SelfAttribute("unit.maker.name")
    model_text = factory.SelfAttribute("unit.model.number")
    serial_text = factory.SelfAttribute("unit.serial")
    confirmed_at = MORNING
    confirmed_by = factory.SubFactory(PersonFactory)


class RecallCheckFactory(DjangoModelFactory):
    class Meta:
        model = RecallCheck

    unit = factory.SubFactory(UnitFactory)
    outcome = "none"
    source = "the public list of recalls"
    checked_on = TODAY
    recorded_at = MORNING
    recorded_by = factory.SubFactory(PersonFactory)


class ProtocolFactory(DjangoModelFactory):
    class Meta:
        model = Protocol

    slug = factory.LazyAttribute(lambda protocol: f"{protocol.kind.slug}-{protocol.occasion}")
    version = 1
    title = "A protocol"
    kind = factory.SubFactory(KindFactory)
    occasion = "arrival"
    digest = "0" * 64


class ProtocolStepFactory(DjangoModelFactory):
    class Meta:
        model = ProtocolStep

    protocol = factory.SubFactory(ProtocolFactory)
    position = factory.Sequence(lambda number: number + 1)
    key = factory.Sequence("step-{}".format)
    title = "Look at the belt"
    instruction = "Unplugged, feel between belt and deck all along the landing zone."
    component = factory.SubFactory(ComponentFactory)
    answer = "condition"
    conditions = factory.LazyFunction(
        lambda: [
            {"condition": "clean", "label": "clean", "passes": True},
            {"condition": "glazed", "label": "glazed or thin", "passes": False},
        ]
    )


class MeasureStepFactory(ProtocolStepFactory):
    answer = "measure"
    conditions = factory.LazyFunction(list)
    measure = "A"
    low = Decimal(0)
    high = Decimal(12)
    fails_as = "high-current"


class InspectionFactory(DjangoModelFactory):
    class Meta:
        model = Inspection

    unit = factory.SubFactory(UnitFactory)
    protocol = factory.SubFactory(ProtocolFactory, kind=factory.SelfAttribute("..unit.model.kind"))
    opened_at = MORNING
    opened_by = factory.SubFactory(PersonFactory)


class PlateWalkFactory(DjangoModelFactory):
    class Meta:
        model = PlateWalk

    place = "the gym by the river"
    opened_at = MORNING
    opened_by = factory.SubFactory(PersonFactory)


class PlateReadingFactory(DjangoModelFactory):
    """A photo that waits to be read; ``read=True`` makes it one that was read as sure.

    ``texts`` says what was read of each field, ``read_as`` the outcome of the photo.
    """

    class Meta:
        model = PlateReading

    class Params:
        texts = {}
        read_as = "sure"
        read = factory.Trait(
            state="read",
            outcome=factory.SelfAttribute("read_as"),
            proposal=factory.LazyAttribute(lambda made: proposal_of(made.texts, made.read_as)),
            ended_at=MORNING,
        )

    photo = factory.SubFactory(StoredFileFactory)
    asked_at = MORNING
    asked_by = factory.SubFactory(PersonFactory)


def proposal_of(texts: dict[str, str], outcome: str = "sure") -> dict:
    """What a reader proposes, as it is kept; every field is as sure as the photo."""
    said = {"maker": "Corvane", "model": "TR-1", "serial": "CV000001"} | texts
    fields = {
        FieldName(name): ReadField(
            name=FieldName(name),
            text=text,
            confidence=0.98,
            outcome=Outcome(outcome),
            box=((0.2, 0.2), (0.8, 0.2), (0.8, 0.3), (0.2, 0.3)),
            candidates=(Candidate(text, 0.98),),
        )
        for name, text in said.items()
    }
    return Proposal(fields=fields, plates=1, outcome=Outcome(outcome), version="test 1").as_json()
