"""A standard part of any sort by its designation."""

from collections.abc import Callable
from functools import lru_cache
from typing import Protocol

from parts.fits.domain import bearings, belts, cords, screws
from parts.fits.domain.reading import DesignationError


class Standard(Protocol):
    """A belt, bearing, screw or cord: the one spelling kept of it, and the spellings of all that
    can stand in for it, its own first."""

    sort: str
    designation: str
    stand_ins: tuple[str, ...]


READERS: dict[str, Callable[[str], Standard]] = {
    "bearing": bearings.read_bearing,
    "belt": belts.read_belt,
    "screw": screws.read_screw,
    "cord": cords.read_cord,
}


def read_standard(text: str) -> Standard:
    """The standard part of this designation, whatever its sort.

    When none reads, the DesignationError blames the character that the furthest reader came to;
    where several came as far, it names the forms of all of them.
    """
    errors = []
    for read in READERS.values():
        try:
            return read(text)
        except DesignationError as error:
            errors.append(error)
    reach = max(error.reach for error in errors)
    furthest = [error for error in errors if error.reach == reach]
    forms = "; ".join(error.places["forms"] for error in furthest)
    raise DesignationError(furthest[0].sentence, reach, **furthest[0].places | {"forms": forms})


@lru_cache(maxsize=4096)
def stand_ins(text: str) -> tuple[str, ...]:
    """The spellings of all that can stand in for this; none when it is no designation."""
    try:
        return read_standard(text).stand_ins
    except DesignationError:
        return ()
