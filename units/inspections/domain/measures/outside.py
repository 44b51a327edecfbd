"""Measures as people write them, and their size in SI."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Measure:
    """``size`` of one in SI; ``zero`` is where its own zero lies (only degrees have one)."""

    symbol: str
    size: float = 1.0
    zero: float = 0.0

    def inside(self, value):
        return value * self.size + self.zero

    def outside(self, value):
        return (value - self.zero) / self.size


# Sizes by definition: the international inch, mile and pound.
US = {
    "length": Measure("in", 0.0254),
    "way": Measure("ft", 0.3048),
    "speed": Measure("mph", 0.44704),
    "mass": Measure("lb", 0.45359237),
    "warmth": Measure("°F", 5 / 9, -32 * 5 / 9),  # SI side: degrees Celsius
}
METRIC = {
    "length": Measure("mm", 0.001),
    "way": Measure("m"),
    "speed": Measure("km/h", 1 / 3.6),
    "mass": Measure("kg"),
    "warmth": Measure("°C"),
}
EITHER = {
    "time": Measure("s"),
    "turns": Measure(""),
    "rate": Measure("rpm"),
    "share": Measure("%", 0.01),
    "plain": Measure(""),
    "angle": Measure("°"),
    "current": Measure("A"),
    "power": Measure("W"),
    "voltage": Measure("V"),
    "resistance": Measure("Ω"),
    "sound": Measure("Hz"),
    "force": Measure("N"),
}
SYSTEMS = {"us": US | EITHER, "metric": METRIC | EITHER}
KEPT = {"speed": "m/s"} | {name: measure.symbol for name, measure in EITHER.items()}


def measures(system: str) -> dict[str, Measure]:
    """The measures of ``us`` or ``metric``; of anything else the first."""
    return SYSTEMS.get(system, SYSTEMS["us"])
