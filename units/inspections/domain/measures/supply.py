"""What the supply does under load, and what is to blame: the outlet, the cord or the machine."""

from dataclasses import dataclass

from units.inspections.domain.measures.conductors import cord_drop
from units.inspections.domain.measures.facts import limit
from units.inspections.domain.measures.odds import beyond


def source_resistance(open_volts, loaded_volts, amps):
    """Ohms of all that lies behind the outlet."""
    return (open_volts - loaded_volts) / amps


def sag(open_volts, loaded_volts):
    """The share of its open voltage that an outlet loses under load."""
    return (open_volts - loaded_volts) / open_volts


@dataclass(frozen=True)
class SupplyReadings:
    """Volts at the outlet with the machine still and running, amperes then, volts at the machine's
    end of an extension cord, its gauge and length (m), the machine's rated amperes (all five may be
    None), and the supply's nominal voltage."""

    open_volts: object
    loaded_volts: object
    amps: object
    machine_volts: object = None
    gauge: int | None = None
    length: object = None
    rated_amps: float | None = None
    nominal: float = 120.0

    @property
    def reaches(self):
        """Volts that the machine runs on."""
        return self.loaded_volts if self.machine_volts is None else self.machine_volts


@dataclass(frozen=True)
class Suspect:
    """One that may be to blame, and the chance that its limit is passed; None: not measured."""

    name: str
    odds: float | None


def suspects(readings: SupplyReadings) -> tuple[Suspect, ...]:
    """Service, outlet, cord, cord's contacts, too little at the machine, and the machine itself,
    each with its own odds.

    They do not exclude one another. Limits are those of the table of assumptions.
    """
    fall = sag(readings.open_volts, readings.loaded_volts)
    drop, rated = _drop(readings), readings.rated_amps
    return (
        Suspect("service", _below(readings.open_volts, "voltage-service", readings.nominal)),
        Suspect("outlet", beyond(fall, limit("sag-outlet"))),
        Suspect("cord", drop and beyond(drop / readings.loaded_volts, limit("drop-cord"))),
        Suspect("contacts", _contacts(readings)),
        Suspect("reaches", _below(readings.reaches, "voltage-outlet", readings.nominal)),
        Suspect("machine", rated and beyond(readings.amps, rated)),
    )


def _below(volts, key: str, nominal: float) -> float:
    return 1 - beyond(volts / nominal, limit(key))


def _expected(readings: SupplyReadings):
    if readings.gauge is None or readings.length is None:
        return None
    return cord_drop(readings.gauge, readings.length, readings.amps)


def _drop(readings: SupplyReadings):
    """Volts that the cord takes: measured if they were, else by gauge and length."""
    if readings.machine_volts is not None:
        return readings.loaded_volts - readings.machine_volts
    return _expected(readings)


def _contacts(readings: SupplyReadings) -> float | None:
    """The chance that a cord takes more than half as much again as its copper explains: a loose
    contact or broken strands. Common practice, no published source."""
    explained = _expected(readings)
    if explained is None or readings.machine_volts is None:
        return None
    return beyond(readings.loaded_volts - readings.machine_volts - 1.5 * explained, 0.0)
