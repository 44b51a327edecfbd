"""Moving average cost, the other usual reading of the same ledger, for comparison with FIFO."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

CENT = Decimal("0.01")


@dataclass(frozen=True)
class Averaged:
    """Cost of what went out and of what is left, to the cent; the average after each receipt."""

    sold: Decimal
    ending: Decimal
    averages: tuple[Decimal, ...]


def moving_average(events: Iterable[tuple[Decimal, Decimal | None]]) -> Averaged:
    """Cost a run of ``(quantity, unit cost)`` receipts and ``(quantity, None)`` issues.

    The average is carried in full precision and only the two results are rounded, half up.
    """
    quantity = cost = sold = Decimal(0)
    averages = []
    for amount, unit_cost in events:
        if unit_cost is None:
            out = cost * amount / quantity
            quantity, cost, sold = quantity - amount, cost - out, sold + out
        else:
            quantity, cost = quantity + amount, cost + amount * unit_cost
            averages.append(cost / quantity)
    ending = cost.quantize(CENT, ROUND_HALF_UP)
    return Averaged(sold.quantize(CENT, ROUND_HALF_UP), ending, tuple(averages))
