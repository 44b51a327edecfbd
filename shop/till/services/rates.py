"""The dated rates.

A rate for a day that has one already replaces it: a mistyped rate can be put right. Invoices
and estimates keep the amounts that they were made with.
"""

from collections.abc import Sequence
from datetime import date
from decimal import Decimal

from django.db import transaction
from django.db.models import Max
from django.utils.translation import gettext as _

from shop.till.domain.errors import TillError
from shop.till.models import BILLED, LabourRate, MarkUp, TaxRate


def known_class(line_class: str) -> str:
    """The class, if lines are billed by it: an unknown one would slip through untaxed.

    Raises ValueError, for it is a defect of the caller.
    """
    if line_class not in dict(BILLED):
        raise ValueError(f"no class of line: {line_class}")
    return line_class


@transaction.atomic
def add_tax_rate(
    *,
    jurisdiction: str,
    line_classes: Sequence[str],
    percent: Decimal,
    from_on: date,
    until_on: date | None = None,
) -> list[TaxRate]:
    """``percent`` of the given classes of line (6.875 means 6.875 per cent). Raises TillError."""
    jurisdiction = " ".join(jurisdiction.split())
    if not jurisdiction:
        raise TillError(_("Name the state, county or town that takes the tax."))
    if not 0 <= percent <= 100:
        raise TillError(_("A tax rate lies between 0 and 100 per cent."))
    if until_on and until_on < from_on:
        raise TillError(_("The last day lies before the first. Correct one of them."))
    return [
        TaxRate.objects.update_or_create(
            jurisdiction=jurisdiction,
            line_class=known_class(line_class),
            from_on=from_on,
            defaults={
                "percent": percent,
                "until_on": until_on,
                "position": _position(jurisdiction),
            },
        )[0]
        for line_class in line_classes
    ]


def add_labour_rate(
    *, price_per_hour: Decimal, cost_per_hour: Decimal, from_on: date
) -> LabourRate:
    """What an hour sells for and costs from a day on. Raises TillError."""
    if price_per_hour < 0 or cost_per_hour < 0:
        raise TillError(_("An hour cannot cost less than nothing."))
    return LabourRate.objects.update_or_create(
        from_on=from_on,
        defaults={"price_per_hour": price_per_hour, "cost_per_hour": cost_per_hour},
    )[0]


def add_mark_up(*, cost_from: Decimal, factor: Decimal, from_on: date) -> MarkUp:
    """Parts costing ``cost_from`` or more sell at cost times ``factor``. Raises TillError."""
    if cost_from < 0 or factor <= 0:
        raise TillError(_("A mark-up needs a cost of 0 or more and a factor above 0."))
    return MarkUp.objects.update_or_create(
        cost_from=cost_from, from_on=from_on, defaults={"factor": factor}
    )[0]


def _position(jurisdiction: str) -> int:
    """Where the jurisdiction stands on papers: where it stood, else last."""
    known = TaxRate.objects.filter(jurisdiction=jurisdiction).first()
    if known:
        return known.position
    return (TaxRate.objects.aggregate(last=Max("position"))["last"] or 0) + 1
