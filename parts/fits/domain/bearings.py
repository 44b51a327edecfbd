"""Ball bearings: from the designation to the three sizes and back."""

from dataclasses import dataclass
from decimal import Decimal
from typing import ClassVar, NoReturn

from parts.fits.domain.reading import DesignationError, Reading, gettext_noop
from parts.fits.domain.tables import table

FORMS = "6203, 6203-2Z, 6203ZZ, 6203 2RS C3, 608-2RS/C3"
NORMAL = "CN"
FIRST_BORES = {"00": 10, "01": 12, "02": 15, "03": 17}
SIZES = {basic: tuple(sizes) for basic, sizes in table("bearings")["sizes"].items()}
# The longer spelling first, so that 2RS1 is not read as 2RS with something behind it.
SEALS = dict(
    sorted(
        ((said, seal) for seal, spelled in table("bearings")["seals"].items() for said in spelled),
        key=lambda pair: -len(pair[0]),
    )
)
CLEARANCES = table("bearings")["clearances"]


@dataclass(frozen=True)
class Bearing:
    """A bearing by its basic number; ``seals`` is ``""`` when open, else ``Z RS`` on one side or
    ``2Z 2RS`` on both; ``clearance`` is ``C2 CN C3 C4``, rising."""

    sort: ClassVar[str] = "bearing"

    basic: str
    seals: str = ""
    clearance: str = NORMAL

    @property
    def bore_mm(self) -> int:
        return SIZES[self.basic][0]

    @property
    def outside_mm(self) -> int:
        return SIZES[self.basic][1]

    @property
    def width_mm(self) -> int:
        return SIZES[self.basic][2]

    @property
    def designation(self) -> str:
        seals = f"-{self.seals}" if self.seals else ""
        clearance = "" if self.clearance == NORMAL else f"/{self.clearance}"
        return f"{self.basic}{seals}{clearance}"

    @property
    def stand_ins(self) -> tuple[str, ...]:
        """Only the very same: a bearing of these sizes with other seals or clearance goes in as
        well, but whether it lasts there is for a person to say."""
        return (self.designation,)


def read_bearing(text: str) -> Bearing:
    """A bearing by its designation in any maker's spelling. DesignationError says what is wrong."""
    reading = Reading(text, FORMS)
    basic = reading.need("[0-9]{1,5}")
    if len(basic) < 3:
        reading.fail()
    if basic not in SIZES:
        _unknown(reading, basic)
    found = {}
    while not reading.done:
        reading.take(r"[ \-/]+")
        begun = reading.at
        name, value = _suffix(reading)
        if name in found:
            reading.fail(begun)
        found[name] = value
    return Bearing(basic, **found)


def _suffix(reading: Reading) -> tuple[str, str]:
    for said, seal in SEALS.items():
        if reading.take(said):
            return "seals", seal
    return "clearance", reading.need("|".join(CLEARANCES))


def _unknown(reading: Reading, basic: str) -> NoReturn:
    places = {"text": reading.text, "at": 1, "basic": basic, "forms": FORMS}
    bore = bore_of(basic)
    if bore is None:
        sentence = gettext_noop(
            "“%(text)s”: character %(at)d begins %(basic)s, which is no ball bearing of the table. "
            "Known forms: %(forms)s."
        )
    else:
        sentence = gettext_noop(
            "“%(text)s”: character %(at)d begins %(basic)s, which the table does not hold; its "
            "bore would be %(bore)d mm. Measure it and look for its sizes. Known forms: %(forms)s."
        )
    raise DesignationError(sentence, reading.at, **places | {"bore": bore})


def bore_of(basic: str) -> int | None:
    """The bore in mm that the last two figures of a four-figure number tell; None for others."""
    if len(basic) != 4 or basic[0] != "6":
        return None
    code = basic[-2:]
    return FIRST_BORES.get(code, int(code) * 5)


def of_sizes(bore_mm: Decimal, outside_mm: Decimal, width_mm: Decimal) -> list[str]:
    """The basic numbers of bearings of these measured sizes, none or one as a rule."""
    within = table("bearings")["measured_within_mm"]
    measured = (bore_mm, outside_mm, width_mm)
    return [
        basic
        for basic, sizes in SIZES.items()
        if all(abs(real - seen) <= within for real, seen in zip(sizes, measured, strict=True))
    ]
