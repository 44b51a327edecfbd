"""Buying: sellers' lists, what stands on them, the way from an offer to the loaded truck."""

from shop.lots.services.errors import LotError
from shop.lots.services.lines import (
    Facts,
    add_line,
    confirm_chosen,
    confirm_sure,
    drop_line,
    make_line,
    settle_line,
)
from shop.lots.services.loading import Count, Scan, close_loading, count_goods, scan_machine
from shop.lots.services.lots import (
    Answer,
    Offered,
    agree_price,
    answer_matter,
    confirm_list,
    open_lot,
    seller_of,
    walk_away,
)
from shop.lots.services.paying import pay_lot, settle_held, settle_lot
from shop.lots.services.removal import name_removal_day
from shop.lots.services.sources import add_pasted, add_source, choose_columns, read_again
from shop.lots.services.tasks import queue_reading
from shop.lots.services.walking import Look, inspect_on_site, record_look, value_by_odds

__all__ = [
    "Answer",
    "Count",
    "Facts",
    "Look",
    "LotError",
    "Offered",
    "Scan",
    "add_line",
    "add_pasted",
    "add_source",
    "agree_price",
    "answer_matter",
    "choose_columns",
    "close_loading",
    "confirm_chosen",
    "confirm_list",
    "confirm_sure",
    "count_goods",
    "drop_line",
    "inspect_on_site",
    "make_line",
    "name_removal_day",
    "open_lot",
    "pay_lot",
    "queue_reading",
    "read_again",
    "record_look",
    "scan_machine",
    "seller_of",
    "settle_held",
    "settle_line",
    "settle_lot",
    "value_by_odds",
    "walk_away",
]
