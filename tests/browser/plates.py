"""Photos of plates where no reader is at work: this plays its part, through the services."""

from datetime import timedelta

from django.contrib.auth.models import User
from django.utils import timezone

from shop.front.demo import pictures
from tests.factories.plates import a_proposal, blank, said
from units.catalogue.models import Kind, MachineModel
from units.catalogue.services import find_or_add_maker, find_or_add_model
from units.plates.models import PlateReading
from units.plates.services import ask_reading, open_walk
from units.plates.services.readings import begin_reading, keep_read, keep_unread

DOUBT = {"CV1OO": 0.25, "CVI00": 0.05}


def on_plates(shop, call: str) -> str:
    """``on_plates(shop, "read('sure')")``: call one of these in the served shop's database."""
    code = f"from tests.browser import plates\nprint(plates.{call})\n"
    return shop.database.python(code).strip().splitlines()[-1]


def photo_bytes(serial: str = "CV100") -> bytes:
    return pictures.plate("Corvane", "TM-9", serial, "120 V  60 Hz").read()


def known_model(maker: str = "Corvane", number: str = "TM-9") -> int:
    """A treadmill that the shop knows well."""
    kind = Kind.objects.get(slug="treadmill")
    model = find_or_add_model(maker=find_or_add_maker(name=maker), number=number, kind=kind)
    MachineModel.objects.filter(pk=model.pk).update(confirmed=True)
    return model.pk


def sent(serial: str = "CV100", walk=None) -> str:
    """A photo that waits; its id."""
    upload = pictures.plate("Corvane", "TM-9", serial, "120 V  60 Hz")
    by = User.objects.get(username="front-desk")
    return str(ask_reading(upload=upload, walk=walk, by=by, at=timezone.now()).pk)


def proposals(serial: str) -> dict:
    sure = said("serial", serial)
    return {
        "sure": a_proposal(sure, said("volts", "120"), said("hertz", "60", "look")),
        "look": a_proposal(said("serial", serial, "look", DOUBT)),
        "type": a_proposal(said("serial", serial, "type"), said("model", "TM-9", "type")),
        "two": a_proposal(sure, plates=2),
        "blank": blank(),
    }


def read(outcome: str, serial: str = "CV100") -> str:
    """Whatever waits is read so (``unread``: is given up); the id of the last one."""
    for waiting in PlateReading.objects.filter(state="waiting").order_by("asked_at"):
        reading = begin_reading(pk=waiting.pk, at=timezone.now())
        if outcome == "unread":
            keep_unread(reading=reading, trouble="too-long", at=timezone.now())
        else:
            proposal = proposals(serial)[outcome]
            keep_read(reading=reading, proposal=proposal, plate=None, at=timezone.now())
    return str(reading.pk)


def sent_and_read(outcome: str, serial: str = "CV100") -> str:
    sent(serial)
    return read(outcome, serial)


def all_read(serials: dict[str, str]) -> str:
    """A photo for each outcome, with its serial; their ids."""
    return " ".join(sent_and_read(outcome, serial) for outcome, serial in serials.items())


def a_walk(photos: int = 5) -> str:
    """A walk of photos that wait; its id."""
    by = User.objects.get(username="front-desk")
    walk = open_walk(place="The gym by the river", by=by, at=timezone.now())
    for number in range(photos):
        sent(f"CV{200 + number}", walk)
    return str(walk.pk)


def read_next(outcome: str) -> str:
    """The photo that waits longest is read, each with its own serial."""
    first = PlateReading.objects.filter(state="waiting").order_by("asked_at")[0]
    place = PlateReading.objects.filter(walk=first.walk, asked_at__lt=first.asked_at).count()
    reading = begin_reading(pk=first.pk, at=timezone.now())
    proposal = proposals(f"CV{200 + place}")[outcome]
    keep_read(reading=reading, proposal=proposal, plate=None, at=timezone.now())
    return str(reading.pk)


def slow() -> str:
    """Whatever waits has waited for long."""
    long_ago = timezone.now() - timedelta(minutes=1)
    return str(PlateReading.objects.filter(state="waiting").update(asked_at=long_ago))
