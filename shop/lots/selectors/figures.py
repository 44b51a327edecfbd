"""The sheet of assumptions: what counts for every lot, what was typed for one, and since when."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from shop.lots.domain.assumptions import Stated, stated, stated_terms
from shop.lots.domain.prices import Terms
from shop.lots.models import Lot, ShopFigure
from shop.resale.models import Sale
from units.inspections.models import ComponentOutcome


@dataclass(frozen=True)
class Figure:
    """One line of the sheet: what is reckoned with, and where it comes from: ``typed`` for a lot,
    else set by the ``shop`` for every lot, else stated."""

    stated: Stated
    value: float
    typed: bool
    shop: ShopFigure | None


@dataclass(frozen=True)
class OwnFacts:
    """How much of the shop's own the odds and prices can rest on, and lots whose end is known."""

    looks: int
    sales: int
    lots: int


def shop_figures(at: datetime | None = None) -> dict[str, ShopFigure]:
    """By key what the owner set for every lot, at an instant or today. One query."""
    rows = ShopFigure.objects.select_related("set_by").order_by("set_at", "pk")
    rows = rows.filter(set_at__lte=at) if at else rows
    newest = {row.key: row for row in rows}
    return {key: row for key, row in newest.items() if row.value is not None}


def values_of(figures: Mapping[str, ShopFigure]) -> dict[str, float]:
    """The assumptions among them, as a valuation takes them."""
    return {key: float(row.value) for key, row in figures.items() if key in stated()}


def terms_of(figures: Mapping[str, ShopFigure]) -> Terms:
    """The margin and how sure it has to be."""
    terms = stated_terms()
    said = {key: float(row.value) for key, row in figures.items()}
    return Terms(said.get("margin", terms.margin), said.get("odds", terms.odds))


def sheet_of(figures: Mapping[str, ShopFigure], typed: Mapping[str, float]) -> list[Figure]:
    """Every assumption as it is reckoned with."""
    values = {key: one.base for key, one in stated().items()} | values_of(figures) | dict(typed)
    return [
        Figure(one, float(values[key]), key in typed, figures.get(key))
        for key, one in stated().items()
    ]


def own_facts() -> OwnFacts:
    """Three queries."""
    return OwnFacts(
        ComponentOutcome.objects.count(),
        Sale.objects.count(),
        Lot.objects.filter(state=Lot.State.TAKEN).count(),
    )
