"""Sales tax on an invoice.

The tax of all jurisdictions together is worked out exactly over the whole invoice and rounded
once: cut to the third decimal, then up from five (Streamlined Sales and Use Tax Agreement,
section 324, invoice basis, aggregated state and local tax). Each jurisdiction then gets its
share to the cent, so that the shares make the rounded whole.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_DOWN, ROUND_FLOOR, ROUND_HALF_UP, Decimal

CENT = Decimal("0.01")
MILL = Decimal("0.001")


@dataclass(frozen=True)
class TaxableLine:
    line_class: str
    net: Decimal


@dataclass(frozen=True)
class Rate:
    """``percent`` of the net of every line of ``line_class``; 6.875 means 6.875 per cent."""

    jurisdiction: str
    line_class: str
    percent: Decimal


@dataclass(frozen=True)
class TaxAmount:
    """What one jurisdiction takes at one rate: ``taxable`` is the sum of the lines' nets."""

    jurisdiction: str
    percent: Decimal
    taxable: Decimal
    tax: Decimal


def round_tax(exact: Decimal) -> Decimal:
    """To the cent by section 324: cut to the third decimal, then up from five."""
    return exact.quantize(MILL, ROUND_DOWN).quantize(CENT, ROUND_HALF_UP)


def taxable_amounts(
    lines: Sequence[TaxableLine], rates: Sequence[Rate]
) -> dict[tuple[str, Decimal], Decimal]:
    """``{(jurisdiction, percent): sum of nets}``, in the order of the rates."""
    taxable: dict[tuple[str, Decimal], Decimal] = {}
    for rate in rates:
        nets = [line.net for line in lines if line.line_class == rate.line_class]
        if nets:
            key = rate.jurisdiction, rate.percent
            taxable[key] = taxable.get(key, Decimal(0)) + sum(nets)
    return taxable


def shares_of(whole: Decimal, exact: Sequence[Decimal]) -> list[Decimal]:
    """Whole cents near the exact parts that make ``whole``, by the largest remainder.

    ``whole`` is within a cent of the sum of the parts; the first of equal remainders wins.
    """
    shares = [part.quantize(CENT, ROUND_FLOOR) for part in exact]
    missing = int((whole - sum(shares)) / CENT)
    by_remainder = sorted(range(len(exact)), key=lambda place: shares[place] - exact[place])
    for place in by_remainder[:missing]:
        shares[place] += CENT
    return shares


def tax_of(lines: Sequence[TaxableLine], rates: Sequence[Rate]) -> list[TaxAmount]:
    """The tax of each jurisdiction and rate that meets a line, in the order of the rates."""
    taxable = taxable_amounts(lines, rates)
    exact = [amount * percent / 100 for (_, percent), amount in taxable.items()]
    taxes = shares_of(round_tax(sum(exact, Decimal(0))), exact)
    return [
        TaxAmount(jurisdiction, percent, amount, tax)
        for ((jurisdiction, percent), amount), tax in zip(taxable.items(), taxes, strict=True)
    ]
