"""What the till does: bill, take money, keep the dated rates."""

from shop.till.domain.errors import TillError
from shop.till.domain.pricing import Line
from shop.till.services.deposits import (
    apply_deposit,
    keep_deposit,
    return_deposit,
    take_deposit,
)
from shop.till.services.invoices import issue_invoice
from shop.till.services.payments import reverse_payment, take_payment
from shop.till.services.rates import add_labour_rate, add_mark_up, add_tax_rate
from shop.till.services.sellers import (
    BY_TRANSFER,
    Bought,
    Ending,
    Paying,
    end_holdback,
    hold_back,
    lock_seller,
    pay_seller,
    take_back_payment,
)

__all__ = [
    "BY_TRANSFER",
    "Bought",
    "Ending",
    "Line",
    "Paying",
    "TillError",
    "add_labour_rate",
    "add_mark_up",
    "add_tax_rate",
    "apply_deposit",
    "end_holdback",
    "hold_back",
    "issue_invoice",
    "keep_deposit",
    "lock_seller",
    "pay_seller",
    "return_deposit",
    "reverse_payment",
    "take_back_payment",
    "take_deposit",
    "take_payment",
]
