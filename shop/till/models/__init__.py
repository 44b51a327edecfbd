from shop.till.models.invoices import Invoice, InvoiceLine, InvoiceTax
from shop.till.models.payments import Deposit, DepositEnd, Payment
from shop.till.models.rates import BILLED, GOODS, LabourRate, LineClass, MarkUp, TaxRate
from shop.till.models.sellers import Holdback, HoldbackEnd, SellerPayment

__all__ = [
    "BILLED",
    "GOODS",
    "Deposit",
    "DepositEnd",
    "Holdback",
    "HoldbackEnd",
    "Invoice",
    "InvoiceLine",
    "InvoiceTax",
    "LabourRate",
    "LineClass",
    "MarkUp",
    "Payment",
    "SellerPayment",
    "TaxRate",
]
