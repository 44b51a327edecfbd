"""Making a machine of ours ready for its way out, and letting it go."""

from shop.resale.services.errors import ResaleError
from shop.resale.services.goods import Bargain, sell_goods
from shop.resale.services.leaving import Agreed, Paid, dispose_machine, sell_machine, strip_own
from shop.resale.services.offering import record_grading, set_price
from shop.resale.services.papers import attach_paper, set_holding, waive
from shop.resale.services.reserving import release_reservation, reserve_machine

__all__ = [
    "Agreed",
    "Bargain",
    "Paid",
    "ResaleError",
    "attach_paper",
    "dispose_machine",
    "record_grading",
    "release_reservation",
    "reserve_machine",
    "sell_goods",
    "sell_machine",
    "set_holding",
    "set_price",
    "strip_own",
    "waive",
]
