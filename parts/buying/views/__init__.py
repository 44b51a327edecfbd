from parts.buying.views.exchanging import (
    exchange_add,
    exchange_list,
    exchange_offer_add,
    exchange_step,
)
from parts.buying.views.ordering import (
    OrderList,
    order,
    order_add,
    order_line_cancel,
    order_paper,
    reorder_list,
)
from parts.buying.views.pricing import (
    PriceList,
    supplier_list,
    supplier_list_add,
    supplier_price_add,
)
from parts.buying.views.receiving import (
    ReceiptList,
    order_receive,
    part_return,
    receipt,
    receipt_add,
)

__all__ = [
    "OrderList",
    "PriceList",
    "ReceiptList",
    "exchange_add",
    "exchange_list",
    "exchange_offer_add",
    "exchange_step",
    "order",
    "order_add",
    "order_line_cancel",
    "order_paper",
    "order_receive",
    "part_return",
    "receipt",
    "receipt_add",
    "reorder_list",
    "supplier_list",
    "supplier_list_add",
    "supplier_price_add",
]
