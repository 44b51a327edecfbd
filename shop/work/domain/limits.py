"""When work outgrows what was agreed. Source: common practice, no published source."""

from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True)
class Allowance:
    """How far work may outgrow its yes: a share of it or a fixed sum, whichever is less."""

    percent: Decimal = Decimal(10)
    at_most: Decimal = Decimal(50)


SHOP_DEFAULT = Allowance()
# A limit given on arrival is a limit: nobody has said yes to a price.
NONE = Allowance(Decimal(0), Decimal(0))


def ceiling(up_to: Decimal, allowance: Allowance = SHOP_DEFAULT) -> Decimal:
    """The most, before tax and unrounded, that may be charged without asking again."""
    return up_to + min(up_to * allowance.percent / 100, allowance.at_most)


def needs_new_yes(projected: Decimal, up_to: Decimal, allowance: Allowance = SHOP_DEFAULT) -> bool:
    return projected > ceiling(up_to, allowance)
