"""What one invented machine's plate has to say."""

from dataclasses import dataclass
from random import Random

from tests.platemaker.makers import (
    MAKERS,
    STYLES,
    confirmed_serials,
    confirmed_shapes,
    models_of,
    new_model,
    serial_in,
)
from units.plates.domain.knowledge import shape_of

NEW_MODEL = 0.12
OTHER_STYLE = 0.15
CAME_BACK = 0.03
WITHOUT_SUPPLY = 0.12
# Usual supplies as (volts, hertz, amps), by how often a plate shows them.
SUPPLIES = (
    ("120", "60", "15"),
    ("120", "60", "12"),
    ("120", "60", "20"),
    ("120", "60", "4"),
    ("120", "60", "1.5"),
    ("115", "60", "16"),
    ("208", "60", "10"),
    ("220", "50", "6.3"),
    ("230", "50", "8"),
    ("220-240", "50", "10"),
    ("220-240", "50/60", "8.5"),
    ("100-240", "50/60", "2"),
)


@dataclass(frozen=True)
class Facts:
    maker: str
    model: str
    serial: str
    volts: str
    hertz: str
    amps: str
    year: int
    month: int
    known_model: bool
    known_shape: bool


def draw_facts(rng: Random, families: str) -> Facts:
    """A machine: mostly of the catalogue and of the maker's usual serials."""
    maker = rng.choice(MAKERS)
    known = rng.random() >= NEW_MODEL
    model = rng.choice(models_of(maker)) if known else new_model(maker, rng)
    year, month = rng.randint(2012, 2025), rng.randint(1, 12)
    serial = _serial(maker, year, month, rng, families)
    supply = ("", "", "") if rng.random() < WITHOUT_SUPPLY else rng.choice(SUPPLIES)
    shape = (maker, shape_of(serial)) in confirmed_shapes(families)
    return Facts(maker, model, serial, *supply, year, month, known, shape)


def _serial(maker: str, year: int, month: int, rng: Random, families: str) -> str:
    """A serial; now and then of a machine that the shop has met before."""
    met = [serial for of, serial in confirmed_serials(families) if of == maker]
    if met and rng.random() < CAME_BACK:
        return rng.choice(met)
    return serial_in(STYLES[families][maker][rng.random() < OTHER_STYLE], year, month, rng)
