"""Our own machines: ready to sell, nearly ready, and what each still needs."""

from datetime import date

from django.urls import reverse
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from shop.front.domain.todo import Group, Todo, days_between
from shop.resale.selectors import ForSale, our_stays
from shop.resale.selectors import for_sale as ours_for_sale
from units.show.words import money

NEARLY = 4


def for_sale(on: date) -> list[Group]:
    """Machines ready to sell, and those that lack at most ``NEARLY`` conditions."""
    machines = ours_for_sale(our_stays(), on)
    href = reverse("ready-list")
    return [
        Group(
            _("Ready to sell"),
            tuple(_todo(one, on) for one in machines if one.ready),
            _("None of our machines is ready yet."),
            href,
        ),
        Group(
            _("Nearly ready"),
            tuple(_todo(one, on) for one in machines if 0 < len(one.unmet) <= NEARLY),
            _("No machine is within a few steps of being ready."),
            href,
        ),
    ]


def _todo(one: ForSale, on: date) -> Todo:
    stay = one.stay
    if one.ready:
        sentence = gettext("%(machine)s is ready to sell for %(price)s before tax.") % {
            "machine": stay.unit,
            "price": money(stay.price),
        }
    else:
        missing = " ".join(unmet.sentence for unmet in one.unmet)
        sentence = gettext("%(machine)s: %(missing)s") % {"machine": stay.unit, "missing": missing}
    return Todo(
        sentence=sentence,
        since=stay.came_on,
        days=days_between(stay.came_on, on),
        late=False,
        href=reverse("readiness", args=[stay.pk]),
        deed=gettext("See it") if one.ready else gettext("See what it needs"),
    )
