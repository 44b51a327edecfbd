"""What every deed on a machine of ours asks first."""

from datetime import date, datetime

from django.db.models import Max
from django.utils import timezone
from django.utils.translation import gettext as _

from shop.floor.models import Stay
from shop.people.models import Customer
from shop.people.services import save_customer
from shop.resale.domain.exits import Exit
from shop.resale.selectors import readiness_of
from shop.resale.services.errors import ResaleError
from shop.work.services.intake import Person
from units.show.words import day


def ours_and_here(stay: Stay) -> Stay:
    """The stay as it stands now, locked."""
    rows = Stay.objects.select_for_update(of=["self"]).select_related("unit__model__kind")
    stay = rows.select_related("unit__model__maker", "unit__maker").get(pk=stay.pk)
    if stay.owner_id:
        raise ResaleError(_("This machine belongs to a customer. Only our own are sold."))
    if stay.left == Stay.Left.SOLD:
        raise ResaleError(
            _("This machine was sold already, on invoice %(invoice)s.")
            % {"invoice": stay.left_document}
        )
    if stay.left_on:
        raise ResaleError(
            _("This machine has left us already: %(how)s, %(day)s, under %(document)s.")
            % {
                "how": stay.get_left_display(),
                "day": day(stay.left_on),
                "document": stay.left_document or "–",
            }
        )
    return stay


def customer_of(buyer: Customer | Person, on: date) -> Customer:
    """The customer we know, or a new one of that name and number."""
    if isinstance(buyer, Customer):
        return buyer
    return buyer.known or save_customer(
        name=buyer.name,
        sort=Customer.Sort.PERSON,
        phone=buyer.phone,
        email="",
        note="",
        known_since=on,
    )


def refuse_unmet(stay: Stay, way: Exit, on: date, *, but: str = "") -> None:
    """Raise what the exit still asks for, ``but`` for one condition that does not count."""
    unmet = [one for one in readiness_of([stay], on, way)[stay.pk] if one.key != but]
    if unmet:
        said = _("This machine is not ready for this way out: %(way)s. %(reasons)s")
        if way.key == "retail":
            said = _("This machine is not ready for sale. %(reasons)s")
        reasons = " ".join(one.sentence for one in unmet)
        raise ResaleError(said % {"way": _(way.name), "reasons": reasons}, unmet)


def refuse_day(stay: Stay, on: date, at: datetime) -> None:
    """A machine leaves after all that was spent on it: its cost is frozen with it."""
    spent_on = stay.costs.aggregate(last=Max("spent_on"))["last"]
    if on < stay.came_on:
        raise ResaleError(
            _("It cannot be sold before the day it came. Correct the day."), field="on"
        )
    if spent_on and on < spent_on:
        raise ResaleError(
            _("Money was put into it on %(day)s still. A sale is not earlier than that.")
            % {"day": day(spent_on)},
            field="on",
        )
    if on > timezone.localdate(at):
        raise ResaleError(_("This day is still to come. Enter the day of the sale."), field="on")
