"""The words of the navigation, in order; each shows to whoever may open it."""

from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from shop.front import access

ENTRIES = [
    ("home", _("Next")),
    ("intake", _("Log in a machine")),
    ("job-list", _("Jobs")),
    ("machine-list", _("Machines")),
    ("plates", _("Plates")),
    ("model-list", _("Models")),
    ("measuring-tools", _("Measure")),
    ("shelf", _("Shelf")),
    ("order-list", _("Orders")),
    ("customer-list", _("Customers")),
    ("ready-list", _("For sale")),
    ("recall-list", _("Recalls")),
    ("lot-list", _("Lots")),
    ("invoice-list", _("Invoices")),
    ("period-list", _("Periods")),
    ("rates", _("Rates")),
    ("shop-profile", _("Shop")),
    ("help", _("Help")),
]


def entries_for(seats) -> list[tuple[str, str, str]]:
    """``(url name, address, label)`` of what these seats may open."""
    return [(name, reverse(name), label) for name, label in ENTRIES if access.may_open(seats, name)]


def room_of(path: str, entries) -> str:
    """The address of the room that a page lies in: the longest that its path begins with."""
    around = [address for name, address, label in entries if path.startswith(address)]
    return max(around, key=len, default="")
