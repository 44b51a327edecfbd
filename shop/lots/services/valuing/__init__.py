"""What a lot is worth, as everything is known on a day."""

from shop.lots.services.valuing.composing import Composed, Frame, compose_lot
from shop.lots.services.valuing.reckoning import reckon_valuation
from shop.lots.services.valuing.wanting import ValuationError, Wish, want_again, want_valuation

__all__ = [
    "Composed",
    "Frame",
    "ValuationError",
    "Wish",
    "compose_lot",
    "reckon_valuation",
    "want_again",
    "want_valuation",
]
