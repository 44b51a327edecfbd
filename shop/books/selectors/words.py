"""The sentences of the book: what it assumes, and what each tie says."""

from django.utils.formats import date_format
from django.utils.translation import gettext_lazy as _

from shop.books.domain.months import Month

TIES = {
    "balance": _("Debits of the journal = credits of the journal"),
    "sales": _("Totals of the sales register = charged to customers in the journal"),
    "net": _("Net of the sales register = sales accounts in the journal"),
    "tax": _("Tax by jurisdiction = sales tax payable in the journal"),
    "payments": _("Payments = taken off what customers owe in the journal"),
    "parts-used": _("Cost of the parts used = taken off the shelf in the journal"),
    "machine-costs": _("Costs of our machines = added to machines for resale in the journal"),
    "machines-sold": _("Cost of machines sold = taken off machines for resale in the journal"),
    "machines-given": _(
        "Cost of machines donated or scrapped = taken off machines for resale in the journal"
    ),
    "owed": _("At the month's end: unpaid on invoices = owed by customers in the journal"),
    "shelf": _("At the month's end: cost of the parts on the shelf = shelf in the journal"),
    "pieces": _("At the month's end: cost left on donors = pieces of donors in the journal"),
    "deposits": _("At the month's end: deposits held = deposits of customers in the journal"),
    "machines": _("At the month's end: cost of our machines = machines for resale in the journal"),
    "goods": _(
        "At the month's end: cost of goods without serials = goods for resale in the journal"
    ),
    "sellers-paid": _("Payments to sellers = taken off what sellers are owed in the journal"),
    "sellers": _("At the month's end: unpaid for what we bought = owed to sellers in the journal"),
    "held-back": _("At the month's end: held back from sellers = the same in the journal"),
}
ASSUMPTIONS = (
    _("This is a working paper. How a sale is taxed and booked is the accountant's call."),
    _("A sale stands on the day of its invoice, whether it was paid or not."),
    _(
        "Tax was computed once for each invoice, at the rates that the shop had set for the day. "
        "Customers exempt from tax carry the reason in the sheet Sales."
    ),
    _("Parts leave the shelf at the cost of the oldest still there (first in, first out)."),
    _(
        "Parts received are credited to “received, not billed yet” until the supplier's bill is "
        "booked; bills and what is paid to suppliers are not part of this book."
    ),
    _(
        "Our own machines are carried at cost: purchase, parts, and our labour at the shop's cost "
        "rate. Nothing is written down here; whether a machine is worth less is for the accountant."
    ),
    _(
        "What a machine or goods were bought for is credited to the seller when they come in, and "
        "debited when he is paid. A lot that is paid but not yet here stands there as paid ahead."
    ),
    _(
        "Money held back from a seller is owed to him apart. What is kept for good is income of "
        "that day; whether it lowers the cost of what was bought is for the accountant."
    ),
    _(
        "What fetching a lot cost is split with its price and carried with what was fetched; its "
        "other side is an account of its own, since trucks and wages are booked as they are paid. "
        "How a lump price is split, in the books and for tax, is for the accountant."
    ),
    _("Goods without serials are carried at their share of the price, sold at that share."),
    _(
        "A deposit is owed to the customer until it is taken off an invoice, given back or kept. "
        "It is not taxed when it is taken; the invoice is. Whether a state taxes deposits, or one "
        "that was kept, that is for the accountant."
    ),
    _(
        "A machine that was donated or scrapped leaves at what it cost us; whether a gift is "
        "deductible is for the accountant."
    ),
    _("Time on customers' jobs is not booked here: wages are."),
    _(
        "Parts for a repair under our own warranty are an expense of their own; nothing is set "
        "aside beforehand for repairs still to come."
    ),
    _(
        "A core charge is booked as a sale when it is charged; what is given back for the old part "
        "is for the accountant."
    ),
    _("Card payments stand under way in full; the card company's fee is not known here."),
)


def month_name(month: Month) -> str:
    return date_format(month.first, "F Y")
