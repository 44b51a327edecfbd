"""Socket screws: which hex key turns them, and which wrong one seems to."""

from dataclasses import dataclass
from decimal import Decimal
from typing import ClassVar

from parts.fits.domain.reading import Reading
from parts.fits.domain.tables import table

FORMS = "M8x20 cap, M8 button, M6x16 ISO 10642, 1/4-20x1 set"
INCH_MM = Decimal("25.4")
KEYS = table("hex_keys")["keys"]
HEADS = table("hex_keys")["heads"]
NEAR_MM = table("hex_keys")["near_mm"]

NEAR, LOOSE, TIGHT, TOO_LARGE = "near", "loose", "tight", "too-large"


@dataclass(frozen=True)
class Key:
    """A hex key by what is written on it: ``5`` (millimetres) or ``3/16`` (inches)."""

    written: str

    @property
    def inch(self) -> bool:
        return "/" in self.written

    @property
    def across_mm(self) -> Decimal:
        if not self.inch:
            return Decimal(self.written)
        part, whole = map(Decimal, self.written.split("/"))
        return part / whole * INCH_MM


@dataclass(frozen=True)
class WrongKey:
    """A key of the other system that is easily taken for the right one, and what happens.

    ``slack_mm`` is the room it has in the socket: ``near`` turns it well, ``loose`` rounds the
    socket, ``tight`` may enter when forced, ``too-large`` will not enter.
    """

    key: Key
    slack_mm: Decimal

    @property
    def happens(self) -> str:
        if self.slack_mm < 0:
            return TIGHT if -self.slack_mm <= NEAR_MM else TOO_LARGE
        return NEAR if self.slack_mm <= NEAR_MM else LOOSE


@dataclass(frozen=True)
class Screw:
    """A socket screw: thread (``M8``, ``1/4``), head, and pitch and length where they are told.

    ``pitch`` is threads to the inch of an inch screw; a metric one has the coarse pitch.
    ``length`` is in millimetres of a metric screw and in inches of an inch one.
    """

    sort: ClassVar[str] = "screw"

    thread: str
    head: str
    pitch: str = ""
    length: str = ""

    @property
    def designation(self) -> str:
        pitch = f"-{self.pitch}" if self.pitch else ""
        length = f"x{self.length}" if self.length else ""
        return f"{self.thread}{pitch}{length} {self.head}"

    @property
    def stand_ins(self) -> tuple[str, ...]:
        return (self.designation,)

    @property
    def key(self) -> Key:
        return key_of(self.thread, self.head)


def key_of(thread: str, head: str) -> Key:
    """The key that turns a screw of this thread and head; KeyError when the table lacks it."""
    return Key(KEYS[thread][head])


def read_screw(text: str) -> Screw:
    """A screw by thread, length and head. DesignationError says what is wrong."""
    reading = Reading(text, FORMS)
    thread = _thread(reading)
    pitch = reading.need("[1-9][0-9]") if "/" in thread and reading.take("-") else ""
    length = ""
    if reading.take(" *[x×] *"):
        wanted = "[1-9][0-9]*( [1-9]/[1-9][0-9]?)?|[1-9]/[1-9][0-9]?"
        length = reading.need(wanted if "/" in thread else "[1-9][0-9]{0,2}")
    reading.need(r"[ ,\-]+")
    head = _head(reading)
    reading.end()
    return Screw(thread, head, pitch, length)


def _thread(reading: Reading) -> str:
    letter = reading.take("M")
    sizes = [thread.removeprefix("M") for thread in KEYS if ("M" in thread) == bool(letter)]
    return letter + reading.need("(" + "|".join(sizes) + ")(?![0-9/])")


def _head(reading: Reading) -> str:
    for head, standards in HEADS.items():
        for said in [head, *standards]:
            if reading.take(said.replace(" ", " *") + "(?![0-9])"):
                return head
    return reading.fail()


def wrong_keys(right: Key) -> list[WrongKey]:
    """What is easily taken for this key, with what it does in this key's socket."""
    found = []
    for pair in table("hex_keys")["confusable"]:
        if right.written in pair:
            other = Key(pair[1 - pair.index(right.written)])
            found.append(WrongKey(other, right.across_mm - other.across_mm))
    return found
