"""First in, first out, to the cent: what goes in equals what went out plus what is on hand."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

CENT = Decimal("0.01")


class TooFewError(ValueError):
    """The layers hold less than was asked for."""


@dataclass(frozen=True)
class Layer:
    """What is left of one delivery: quantity and its exact remaining cost."""

    key: int
    quantity: Decimal
    cost: Decimal


@dataclass(frozen=True)
class Taken:
    """What was taken from one layer."""

    key: int
    quantity: Decimal
    cost: Decimal


def cost_of(quantity: Decimal, unit_cost: Decimal) -> Decimal:
    """What a delivery costs: rounded to the cent once, half up."""
    return (quantity * unit_cost).quantize(CENT, ROUND_HALF_UP)


def take(layers: Sequence[Layer], quantity: Decimal) -> list[Taken]:
    """Take a quantity from the oldest layers on.

    A part of a layer costs its share of the cost that is left, half up; the last of a layer takes
    the cents that remain, so that none is lost.
    """
    taken, wanted = [], quantity
    for layer in layers:
        if wanted <= 0:
            break
        piece = min(wanted, layer.quantity)
        taken.append(Taken(layer.key, piece, _share(layer, piece)))
        wanted -= piece
    if wanted > 0:
        raise TooFewError(f"{quantity - wanted} of {quantity}")
    return taken


def _share(layer: Layer, piece: Decimal) -> Decimal:
    if piece == layer.quantity:
        return layer.cost
    return (layer.cost * piece / layer.quantity).quantize(CENT, ROUND_HALF_UP)
