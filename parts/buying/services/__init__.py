from parts.buying.services.exchanging import add_offer, order_exchange, step_exchange
from parts.buying.services.listing import keep_list, load_list
from parts.buying.services.ordering import OrderedLine, cancel_rest, order_parts
from parts.buying.services.receiving import (
    ArrivedLine,
    ReceivedLine,
    TypedLine,
    receive_delivery,
    receive_order,
    receive_parts,
)
from parts.buying.services.refusing import BuyingError
from parts.buying.services.returning import return_to_supplier
from parts.buying.services.suppliers import add_supplier, price_part, record_price

__all__ = [
    "ArrivedLine",
    "BuyingError",
    "OrderedLine",
    "ReceivedLine",
    "TypedLine",
    "add_offer",
    "add_supplier",
    "cancel_rest",
    "keep_list",
    "load_list",
    "order_exchange",
    "order_parts",
    "price_part",
    "receive_delivery",
    "receive_order",
    "receive_parts",
    "record_price",
    "return_to_supplier",
    "step_exchange",
]
