from decimal import Decimal

import pytest

from shop.till.domain.pricing import (
    MarkUpStep,
    PriceRules,
    labour_cost,
    labour_price,
    line_net,
    part_price,
    to_cents,
)

RULES = PriceRules(
    labour_price_per_hour=Decimal("80"),
    labour_cost_per_hour=Decimal("25"),
    mark_ups=(
        MarkUpStep(Decimal("50"), Decimal("1.5")),
        MarkUpStep(Decimal(0), Decimal("2")),
        MarkUpStep(Decimal(200), Decimal("1.3")),
    ),
)


@pytest.mark.parametrize(
    ("amount", "cents"), [("0.005", "0.01"), ("0.004999", "0.00"), ("-0.005", "-0.01")]
)
def test_a_half_cent_rounds_away_from_zero(amount, cents):
    assert to_cents(Decimal(amount)) == Decimal(cents)


@pytest.mark.parametrize(
    ("cost", "price"),
    [
        ("0", "0.00"),
        ("20", "40.00"),
        ("49.999999", "100.00"),
        ("50", "75.00"),
        ("199.99", "299.99"),
        ("200", "260.00"),
        ("0.0025", "0.01"),
    ],
)
def test_a_part_sells_by_the_highest_step_its_cost_reaches(cost, price):
    assert part_price(Decimal(cost), RULES) == Decimal(price)


@pytest.mark.parametrize(
    ("minutes", "price", "cost"),
    [(0, "0.00", "0.00"), (60, "80.00", "25.00"), (95, "126.67", "39.58"), (1, "1.33", "0.42")],
)
def test_minutes_are_priced_and_costed_by_the_hour(minutes, price, cost):
    assert labour_price(minutes, RULES) == Decimal(price)
    assert labour_cost(minutes, RULES) == Decimal(cost)


@pytest.mark.parametrize(
    ("quantity", "price", "net"),
    [("3", "4.10", "12.30"), ("0.333", "10.00", "3.33"), ("1.5", "0.33", "0.50")],
)
def test_a_line_is_quantity_times_price_to_the_cent(quantity, price, net):
    assert line_net(Decimal(quantity), Decimal(price)) == Decimal(net)
