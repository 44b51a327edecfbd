"""One price for several things, shared by what each is worth."""

from collections.abc import Sequence
from decimal import ROUND_FLOOR, Decimal

CENT = Decimal("0.01")


def share_by_value(price: Decimal, values: Sequence[Decimal]) -> list[Decimal]:
    """Whole cents of ``price`` in proportion to ``values``, which add up to it exactly.

    The cents that rounding down leaves go to the largest remainders, the first of equals. When
    nothing is worth anything the shares are equal. Raises ``ValueError`` for a value below nothing
    and when there is a price and nothing to share it over.
    """
    if any(value < 0 for value in values):
        raise ValueError("a value is not less than nothing")
    if not values:
        if price:
            raise ValueError("nothing to share the price over")
        return []
    total = sum(values)
    weights = values if total else [Decimal(1)] * len(values)
    total = total or Decimal(len(values))
    exact = [price * weight / total for weight in weights]
    shares = [share.quantize(CENT, ROUND_FLOOR) for share in exact]
    missing = int((price - sum(shares)) / CENT)
    by_remainder = sorted(range(len(exact)), key=lambda place: shares[place] - exact[place])
    for place in by_remainder[:missing]:
        shares[place] += CENT
    return shares
