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
# More than any machine has (SI): a slip of the keys, not a fact. Common practice, no published
# source.
MOST = {
    "length": 20,
    "way": 200,
    "speed": 20,
    "mass": 400,
    "warmth": 150,
    "time": 3600,
    "turns": 10_000,
    "rate": 30_000,
    "share": 2,
    "plain": 200,
    "current": 100,
    "power": 20_000,
    "voltage": 500,
    "sound": 5000,
}
SYSTEMS = {"us": US | EITHER, "metric": METRIC | EITHER}
# What a reading is kept in, whoever took it.
KEPT = {"speed": Measure("m/s")} | EITHER


def measures(system: str) -> dict[str, Measure]:
    """The measures of ``us`` or ``metric``; of anything else the first."""
    return SYSTEMS.get(system, SYSTEMS["us"])
