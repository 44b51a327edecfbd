from parts.buying.selectors.exchanges import (
    CoreToSend,
    cores_to_send,
    exchange_rows,
    offer_rows,
)
from parts.buying.selectors.lists import Chosen, ListReading, given_before, price_lists, read_list
from parts.buying.selectors.orders import (
    OnOrder,
    awaited_lines,
    lines_so_far,
    on_order,
    order_rows,
    states_of,
)
from parts.buying.selectors.prices import PartCost, expected_costs, prices
from parts.buying.selectors.receipts import lines_of, receipts
from parts.buying.selectors.wanted import (
    ProposedLine,
    ProposedOrder,
    below_reorder_point,
    proposed_orders,
    shortages,
)

__all__ = [
    "Chosen",
    "CoreToSend",
    "ListReading",
    "OnOrder",
    "PartCost",
    "ProposedLine",
    "ProposedOrder",
    "awaited_lines",
    "below_reorder_point",
    "cores_to_send",
    "exchange_rows",
    "expected_costs",
    "given_before",
    "lines_of",
    "lines_so_far",
    "offer_rows",
    "on_order",
    "order_rows",
    "price_lists",
    "prices",
    "proposed_orders",
    "read_list",
    "receipts",
    "shortages",
    "states_of",
]
