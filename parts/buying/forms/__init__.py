from parts.buying.forms.exchanging import ExchangeForm, OfferForm, StepForm
from parts.buying.forms.ordering import CancelForm, OrderForm, OrderLines, asked_lines
from parts.buying.forms.pricing import ColumnsForm, ListForm, PriceForm, chosen_from
from parts.buying.forms.receiving import (
    ArrivalForm,
    ArrivedLineForm,
    ReceiptForm,
    ReceiptLines,
    ReturnForm,
)

__all__ = [
    "ArrivalForm",
    "ArrivedLineForm",
    "CancelForm",
    "ColumnsForm",
    "ExchangeForm",
    "ListForm",
    "OfferForm",
    "OrderForm",
    "OrderLines",
    "PriceForm",
    "ReceiptForm",
    "ReceiptLines",
    "ReturnForm",
    "StepForm",
    "asked_lines",
    "chosen_from",
]
