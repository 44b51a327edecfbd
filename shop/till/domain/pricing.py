"""What parts and hours sell for, and what hours cost us. Every amount is rounded here, once."""

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

CENT = Decimal("0.01")
HOUR = 60  # minutes


@dataclass(frozen=True)
class Line:
    """One line to be billed: ``line_class`` as in ``LineClass``, ``unit_price`` before tax."""

    line_class: str
    description: str
    quantity: Decimal
    unit_price: Decimal


@dataclass(frozen=True)
class MarkUpStep:
    """Parts that cost ``cost_from`` or more sell at cost times ``factor``."""

    cost_from: Decimal
    factor: Decimal


@dataclass(frozen=True)
class PriceRules:
    """The rules of one day. ``mark_ups`` has a step from cost 0."""

    labour_price_per_hour: Decimal
    labour_cost_per_hour: Decimal
    mark_ups: tuple[MarkUpStep, ...]


def to_cents(amount: Decimal) -> Decimal:
    """The nearest cent, a half away from zero: the rounding of prices and costs."""
    return amount.quantize(CENT, ROUND_HALF_UP)


def line_net(quantity: Decimal, unit_price: Decimal) -> Decimal:
    return to_cents(quantity * unit_price)


def mark_up_of(unit_cost: Decimal, rules: PriceRules) -> Decimal:
    """The factor of the highest step that the cost reaches."""
    reached = [step for step in rules.mark_ups if step.cost_from <= unit_cost]
    return max(reached, key=lambda step: step.cost_from).factor


def part_price(unit_cost: Decimal, rules: PriceRules) -> Decimal:
    return to_cents(unit_cost * mark_up_of(unit_cost, rules))


def labour_price(minutes: int, rules: PriceRules) -> Decimal:
    return to_cents(rules.labour_price_per_hour * minutes / HOUR)


def labour_cost(minutes: int, rules: PriceRules) -> Decimal:
    return to_cents(rules.labour_cost_per_hour * minutes / HOUR)
