from decimal import Decimal

import pytest

from shop.lots.domain.splitting import split_lump


def test_direct_costs_join_the_price_before_it_is_split():
    """By hand: 900 and a haul of 100 over 300 and 700."""
    shares = split_lump(Decimal(900), Decimal(100), {"u1": Decimal(300), "u2": Decimal(700)})
    assert shares == {"u1": Decimal(300), "u2": Decimal(700)}


def test_the_cents_add_up():
    values = {f"u{at}": Decimal(value) for at, value in enumerate((310, 207, 95, 95, 41))}
    shares = split_lump(Decimal("1234.57"), Decimal("88.88"), values)
    assert sum(shares.values()) == Decimal("1323.45")


def test_what_is_worth_nothing_costs_nothing():
    shares = split_lump(Decimal(500), Decimal(0), {"u1": Decimal(0), "u2": Decimal(80)})
    assert shares["u1"] == 0


def test_a_value_below_nothing_is_refused():
    with pytest.raises(ValueError, match="not less than nothing"):
        split_lump(Decimal(1), Decimal(0), {"u1": Decimal(-2)})
