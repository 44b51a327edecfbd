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


def most_fee(quoted: Decimal, limit: Decimal | None, parts: Decimal) -> Decimal:
    """The most, before tax, that a machine left unrepaired may be charged as a fee unasked.

    ``quoted`` are the fees that an estimate named, ``limit`` is what might be spent before a call
    (None: nothing); the ``parts`` that stay in are spent out of it too.
    """
    return max(ceiling(quoted), (limit or Decimal(0)) - parts)


def needs_new_yes(projected: Decimal, up_to: Decimal, allowance: Allowance = SHOP_DEFAULT) -> bool:
    return projected > ceiling(up_to, allowance)
