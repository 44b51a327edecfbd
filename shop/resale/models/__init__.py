from shop.resale.models.conditions import Disclosure, HoldingRule, Waiver
from shop.resale.models.leaving import Disposal, Sale
from shop.resale.models.offering import AskingPrice, Grading, Reservation

__all__ = [
    "AskingPrice",
    "Disclosure",
    "Disposal",
    "Grading",
    "HoldingRule",
    "Reservation",
    "Sale",
    "Waiver",
]
