"""What is owed to the shop, and the book that the accountant makes next."""

from datetime import date, timedelta

from django.urls import reverse
from django.utils.formats import date_format
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from shop.front.domain.todo import Group, Todo, days_between, is_late
from shop.till.models import Invoice
from units.show.words import money

LATE_AFTER_DAYS = 30


def unpaid_invoices(on: date) -> Group:
    """Invoices with an open balance, oldest first. One query."""
    invoices = Invoice.objects.open().select_related("customer").order_by("issued_on", "pk")
    return Group(
        _("Not paid yet"),
        tuple(_unpaid(invoice, on) for invoice in invoices),
        _("Every invoice is paid."),
        reverse("invoice-list"),
    )


def _unpaid(invoice: Invoice, on: date) -> Todo:
    return Todo(
        sentence=gettext("%(customer)s owes %(amount)s on invoice %(number)s.")
        % {
            "customer": invoice.customer,
            "amount": money(invoice.balance),
            "number": invoice.number,
        },
        since=invoice.issued_on,
        days=days_between(invoice.issued_on, on),
        late=is_late(invoice.issued_on, on, after=LATE_AFTER_DAYS),
        href=reverse("invoice", args=[invoice.number]),
        deed=gettext("See the invoice"),
    )


def book_to_make(on: date) -> Group:
    """The last whole month. No query: a book can be made as often as one likes."""
    last = on.replace(day=1) - timedelta(days=1)
    month = date_format(last, "F Y")
    todo = Todo(
        sentence=gettext("%(month)s is over: its book can be made.") % {"month": month},
        since=last,
        days=days_between(last, on),
        late=False,
        href=reverse("period", args=[f"{last:%Y-%m}"]),
        deed=gettext("Look through it and make the book"),
    )
    return Group(_("The book"), (todo,), "", reverse("period-list"))
