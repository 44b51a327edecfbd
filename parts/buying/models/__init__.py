from parts.buying.models.exchanges import Exchange, ExchangeOffer, ExchangeStep
from parts.buying.models.orders import Cancellation, PurchaseOrder, PurchaseOrderLine
from parts.buying.models.receipts import Receipt, ReceiptLine, SupplierReturn
from parts.buying.models.suppliers import PriceList, Supplier

__all__ = [
    "Cancellation",
    "Exchange",
    "ExchangeOffer",
    "ExchangeStep",
    "PriceList",
    "PurchaseOrder",
    "PurchaseOrderLine",
    "Receipt",
    "ReceiptLine",
    "Supplier",
    "SupplierReturn",
]
