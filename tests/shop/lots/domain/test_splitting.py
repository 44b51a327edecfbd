from decimal import Decimal

import pytest

from shop.lots.domain.splitting import haul_within, split_lump


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


def test_the_haul_lies_within_each_share_and_adds_up():
    shares = split_lump(Decimal("0.05"), Decimal("0.04"), {"a": Decimal(1), "b": Decimal(30)})
    hauls = haul_within(shares, Decimal("0.04"))
    assert sum(hauls.values()) == Decimal("0.04")
    assert all(0 <= hauls[key] <= shares[key] for key in shares)


def test_a_lot_for_nothing_costs_its_haul():
    shares = split_lump(Decimal(0), Decimal("10.01"), {"a": Decimal(1), "b": Decimal(1)})
    assert haul_within(shares, Decimal("10.01")) == shares
