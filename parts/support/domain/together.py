"""Which of the parts that fit a component are needed together, and which stand for one another."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from parts.support.domain.offers import LATER, Fitted

OWN = ("fits", LATER)


@dataclass(frozen=True)
class Side:
    """One position of a component, as written, and the parts of which any one serves there."""

    position: str
    fitted: tuple[Fitted, ...]

    @property
    def quantity(self) -> Decimal:
        """How many a machine needs there; of alternatives that differ the most, to be safe."""
        return max((one.quantity for one in self.fitted), default=Decimal(1))


def sides(fitted: Sequence[Fitted]) -> list[Side]:
    """The positions that must all be filled, in the order in which the parts come.

    Parts in different positions are needed together; those in the same one, or without one, stand
    for each other. The model's own parts tell the positions; a sister's do so only where there is
    none of our own, and serve where they name the same position or none.
    """
    own = [one for one in fitted if one.via in OWN] or fitted
    places: dict[str, str] = {}
    for one in own:
        if one.position:
            places.setdefault(_key(one), one.position)
    if len(places) < 2:
        return [Side("", tuple(fitted))]
    return [
        Side(place, tuple(one for one in fitted if _key(one) in ("", key)))
        for key, place in places.items()
    ]


def _key(one: Fitted) -> str:
    return " ".join(one.position.casefold().split())
