"""What fetching a lot costs: trucks and crew, from masses, floor, steps and distance."""

import math
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Load:
    """A piece to carry: ``mass`` in kilograms, ``floor`` in square metres of a truck."""

    mass: float
    floor: float


@dataclass(frozen=True)
class Site:
    """Where it stands: kilometres one way, and steps between its place and the truck."""

    kilometres: float
    steps: int


@dataclass(frozen=True)
class HaulTable:
    """The shop's own figures; see ``[haul]`` of ``lots.toml`` for the measures.

    ``crew`` pairs a mass of the heaviest piece with the people that it takes, in rising order.
    """

    truck_mass: float
    truck_floor: float
    truck_fixed: float
    truck_per_km: float
    speed: float
    person_rate: float
    piece_minutes: float
    minutes_per_100kg: float
    step_minutes: float
    crew: tuple[tuple[float, int], ...]


@dataclass(frozen=True)
class Haul:
    """Trips of a truck, people, hours of all of them together, and the cost in money."""

    trips: int
    crew: int
    hours: float
    cost: float


NOTHING = Haul(0, 0, 0.0, 0.0)


def haul_of(loads: Sequence[Load], site: Site, table: HaulTable) -> Haul:
    """What fetching these pieces takes. It reckons a cost and says of no lift that it is safe.

    Raises ``ValueError`` for a piece that is too heavy or too large for the truck.
    """
    if not loads:
        return NOTHING
    if any(load.mass > table.truck_mass or load.floor > table.truck_floor for load in loads):
        raise ValueError("a piece does not go onto the truck")
    mass, floor = sum(load.mass for load in loads), sum(load.floor for load in loads)
    trips = max(1, math.ceil(mass / table.truck_mass), math.ceil(floor / table.truck_floor))
    crew = _crew(max(load.mass for load in loads), table)
    driven = 2 * site.kilometres * trips
    minutes = sum(_minutes(load, site, table) for load in loads)
    hours = crew * (minutes / 60 + driven / table.speed)
    cost = trips * table.truck_fixed + driven * table.truck_per_km + hours * table.person_rate
    return Haul(trips, crew, hours, cost)


def _minutes(load: Load, site: Site, table: HaulTable) -> float:
    """Loading and unloading a piece; only the loading goes over the steps."""
    handling = table.piece_minutes + table.minutes_per_100kg * load.mass / 100
    return 2 * handling + table.step_minutes * site.steps * load.mass / 100


def _crew(mass: float, table: HaulTable) -> int:
    place = bisect_left([upto for upto, _ in table.crew], mass)
    return table.crew[min(place, len(table.crew) - 1)][1]
