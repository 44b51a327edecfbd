from shop.till.models.invoices import Invoice, InvoiceLine, InvoiceTax
from shop.till.models.payments import Deposit, DepositEnd, Payment
from shop.till.models.rates import LabourRate, LineClass, MarkUp, TaxRate

__all__ = [
    "Deposit",
    "DepositEnd",
    "Invoice",
    "InvoiceLine",
    "InvoiceTax",
    "LabourRate",
    "LineClass",
    "MarkUp",
    "Payment",
    "TaxRate",
]
