"""The seats of a shop. A person may hold several; each is a Django group of this name."""

from django.utils.translation import gettext_lazy as _

FRONT_DESK = "front desk"
TECHNICIAN = "technician"
OWNER = "owner"
ACCOUNTANT = "accountant"

SEATS = {
    FRONT_DESK: _("front desk"),
    TECHNICIAN: _("technician"),
    OWNER: _("owner"),
    ACCOUNTANT: _("accountant"),
}


def seats_of(user) -> list[str]:
    """The seats a signed-in person holds, in the order above."""
    held = set(user.groups.values_list("name", flat=True)) if user.is_active else set()
    return [seat for seat in SEATS if seat in held]
