"""A repair job: OpenStax Principles of Accounting, Volume 2, section 4.8 (figures only)."""

from decimal import Decimal

from shop.till.domain.pricing import MarkUpStep, PriceRules, labour_cost, labour_price

RULES = PriceRules(Decimal("80"), Decimal("25"), (MarkUpStep(Decimal(0), Decimal(1)),))
THREE_HOURS = 180


def test_section_4_8_three_hours_at_25_cost_75():
    assert labour_cost(THREE_HOURS, RULES) == Decimal("75.00")


def test_section_4_8_part_labour_and_as_much_overhead_cost_192():
    labour = labour_cost(THREE_HOURS, RULES)
    assert Decimal("42") + labour + labour == Decimal("192.00")


def test_section_4_8_part_at_70_and_three_hours_at_80_are_billed_310():
    assert Decimal("70") + labour_price(THREE_HOURS, RULES) == Decimal("310.00")
