"""What is true of a made photo."""

from dataclasses import asdict, dataclass

SETS = ("tune", "judge")


@dataclass(frozen=True)
class Truth:
    """What the plate says, ``""`` where it says nothing.

    ``made`` is ``2019-03`` or ``2019``. ``barcodes`` are pairs (format, text) as drawn, spoiled or
    not. ``known_model``: the shop's catalogue has the model; ``known_shape``: a serial of this
    maker and shape was confirmed before.
    """

    maker: str
    model: str
    serial: str
    volts: str
    hertz: str
    amps: str
    made: str
    barcodes: tuple[tuple[str, str], ...]
    known_model: bool
    known_shape: bool

    def as_json(self) -> dict:
        return asdict(self)


@dataclass(frozen=True)
class MadePhoto:
    """A photo, the layout family it shows, and what was done to it."""

    jpeg: bytes
    truth: Truth
    family: str
    tier: str
    spoilings: tuple[str, ...]
