from parts.stock.services.clearing import scrap_stock, transfer_stock
from parts.stock.services.costing import choose_costing
from parts.stock.services.donors import (
    StripError,
    StripLine,
    scrap_piece,
    strip_donor,
    take_off_donor,
)
from parts.stock.services.moving import count_stock, issue_stock, receive_stock, return_stock
from parts.stock.services.shelves import NotEnoughStockError, StockError, find_or_add_bin

__all__ = [
    "NotEnoughStockError",
    "StockError",
    "StripError",
    "StripLine",
    "choose_costing",
    "count_stock",
    "find_or_add_bin",
    "issue_stock",
    "receive_stock",
    "return_stock",
    "scrap_piece",
    "scrap_stock",
    "strip_donor",
    "take_off_donor",
    "transfer_stock",
]
