"""Reading serial plates: photos go to the reader, people confirm what it proposes."""

from units.plates.services.asking import ask_again, ask_reading, set_aside
from units.plates.services.confirming import confirm_reading
from units.plates.services.records import PlateError, record_plate
from units.plates.services.walks import open_walk

__all__ = [
    "PlateError",
    "ask_again",
    "ask_reading",
    "confirm_reading",
    "open_walk",
    "record_plate",
    "set_aside",
]
