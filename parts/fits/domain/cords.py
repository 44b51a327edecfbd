"""Power cords that come off, by plug, coupler and gauge."""

from dataclasses import dataclass
from typing import ClassVar

from parts.fits.domain.reading import Reading
from parts.fits.domain.tables import table

FORMS = "5-15P C13 14 AWG"
GAUGES, PLUGS, COUPLERS = (table("cords")[word] for word in ("gauges", "plugs", "couplers"))


@dataclass(frozen=True)
class Cord:
    """A cord by the plug for the wall, the coupler for the machine and the conductors' gauge."""

    sort: ClassVar[str] = "cord"

    plug: str
    coupler: str
    gauge: int

    @property
    def designation(self) -> str:
        return f"{self.plug} {self.coupler} {self.gauge} AWG"

    @property
    def stand_ins(self) -> tuple[str, ...]:
        """Itself, then cords alike with thicker conductors."""
        thicker = GAUGES[GAUGES.index(self.gauge) :]
        return tuple(Cord(self.plug, self.coupler, gauge).designation for gauge in thicker)


def read_cord(text: str) -> Cord:
    """A cord by its designation. DesignationError says what is wrong."""
    reading = Reading(text, FORMS)
    plug = reading.need("|".join(PLUGS))
    reading.need("[ ,/]+")
    coupler = reading.need("(" + "|".join(COUPLERS) + ")(?![0-9])")
    reading.need("[ ,/]+")
    gauge = reading.need("(" + "|".join(map(str, GAUGES)) + ")(?![0-9])")
    reading.need(" *AWG")
    reading.end()
    return Cord(plug, coupler, int(gauge))
