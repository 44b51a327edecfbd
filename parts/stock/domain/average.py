"""Moving average: every piece of a part that lies there costs the same, whenever it came."""

from collections.abc import Iterable
from datetime import date
from decimal import ROUND_HALF_UP, Decimal

MILLIONTH = Decimal("0.000001")


def average_cost(quantity: Decimal, cost: Decimal) -> Decimal:
    """What one of so many costs, to the millionth, half up; the whole cost is kept beside it."""
    return (cost / quantity).quantize(MILLIONTH, ROUND_HALF_UP)


def least_from(moves: Iterable[tuple[date, Decimal]], on: date) -> Decimal:
    """The least that lay there at the end of ``on`` or of any later day.

    What one pool holds no longer says when it came, nor does a layer to which something was given
    back; this tells how much may be taken on a past day without having taken, on some day, what
    was not there.
    """
    by_day: dict[date, Decimal] = {}
    before = Decimal(0)
    for day, quantity in moves:
        if day <= on:
            before += quantity
        else:
            by_day[day] = by_day.get(day, Decimal(0)) + quantity
    least = balance = before
    for day in sorted(by_day):
        balance += by_day[day]
        least = min(least, balance)
    return least
