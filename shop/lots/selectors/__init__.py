from shop.lots.selectors.checking import Checking, checking_of
from shop.lots.selectors.lots import (
    Standing,
    goods_of,
    lines_of,
    lot_page,
    lot_rows,
    machines_of,
    offered_models,
    open_lines,
    plate_of,
    sources,
    standings,
)
from shop.lots.selectors.reading import catalogue, chosen_of, read_upload

__all__ = [
    "Checking",
    "Standing",
    "catalogue",
    "checking_of",
    "chosen_of",
    "goods_of",
    "lines_of",
    "lot_page",
    "lot_rows",
    "machines_of",
    "offered_models",
    "open_lines",
    "plate_of",
    "read_upload",
    "sources",
    "standings",
]
