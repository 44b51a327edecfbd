"""The lump price of a lot over what was bought."""

from collections.abc import Mapping
from decimal import Decimal

from parts.stock.domain.sharing import share_by_value


def split_lump(
    price: Decimal, direct_costs: Decimal, values: Mapping[str, Decimal]
) -> dict[str, Decimal]:
    """What each thing cost, in whole cents that add up: its share by relative value.

    The direct costs of getting the lot (the haul) join the price before it is shared out. How a
    purchase is split for tax or in the books is the accountant's call. Raises ``ValueError`` for a
    value below nothing, and where there is a price and nothing was bought.
    """
    shares = share_by_value(price + direct_costs, list(values.values()))
    return dict(zip(values, shares, strict=True))


def haul_within(shares: Mapping[str, Decimal], haul: Decimal) -> dict[str, Decimal]:
    """How much of each share is for the haul: whole cents that make it up, none above its share."""
    return dict(zip(shares, share_by_value(haul, list(shares.values())), strict=True))
