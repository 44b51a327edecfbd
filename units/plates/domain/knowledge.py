"""What the shop knows before it looks at a plate: makers, models, serials, usual misreadings."""

import re
from collections.abc import Iterable
from dataclasses import dataclass, field


@dataclass(frozen=True)
class Knowledge:
    """Handed to the reader with each photo.

    ``models`` are pairs (maker, model number); ``serials`` are pairs (maker, serial) of confirmed
    plates, the newest first; ``misread`` counts how often a character ``(read, true)`` had to be
    corrected by a person.
    """

    makers: tuple[str, ...] = ()
    models: tuple[tuple[str, str], ...] = ()
    serials: tuple[tuple[str, str], ...] = ()
    misread: dict[tuple[str, str], int] = field(default_factory=dict)


def shape_of(serial: str) -> str:
    """The shape of a serial: ``ML201900137`` is ``AA999999999``, ``K7-0042`` is ``A9-9999``."""
    return re.sub(r"[A-Z]", "A", re.sub(r"\d", "9", serial.upper()))


def corrections(read: str, confirmed: str) -> Iterable[tuple[str, str]]:
    """The characters ``(read, true)`` that a person changed; none when the lengths differ."""
    if len(read) == len(confirmed):
        for before, after in zip(read.upper(), confirmed.upper(), strict=True):
            if before != after:
                yield before, after
