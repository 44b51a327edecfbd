"""What some of a heap of goods cost."""

from decimal import ROUND_HALF_UP, Decimal

CENT = Decimal("0.01")


def cost_of_some(quantity: Decimal, left: Decimal, cost_left: Decimal) -> Decimal:
    """The share of ``cost_left`` that so much of what is left carries away, to the cent.

    The last of it takes whatever cost is left, so that no cent stays behind. Raises ``ValueError``
    for nothing, and for more than is left.
    """
    if not 0 < quantity <= left:
        raise ValueError("that much is not there")
    if quantity == left:
        return cost_left
    return (cost_left * quantity / left).quantize(CENT, ROUND_HALF_UP)
