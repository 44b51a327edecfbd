"""Our own machines: ready to sell, nearly ready, and what each still needs."""

from datetime import date

from django.urls import reverse
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from shop.front.domain.todo import Group, Todo, days_between, late_first
from shop.resale.selectors import ForSale, our_stays
from shop.resale.selectors import for_sale as ours_for_sale
from units.show.words import day, money

NEARLY = 4


def for_sale(on: date) -> list[Group]:
    """Machines ready to sell, those that lack at most ``NEARLY`` conditions, and the reserved."""
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
            tuple(_todo(one, on) for one in machines if _nearly(one)),
            _("No machine is within a few steps of being ready."),
            href,
        ),
        Group(
            _("Reserved"),
            late_first([_held(one, on) for one in machines if one.reserved]),
            _("No machine is reserved."),
            f"{href}?state=reserved",
        ),
    ]


def _nearly(one: ForSale) -> bool:
    return not one.reserved and 0 < len(one.unmet) <= NEARLY


def _held(one: ForSale, on: date) -> Todo:
    until = one.facts.reserved_until
    late = gettext("%(machine)s was held for %(who)s until %(day)s: sell it to him, or let it go.")
    sentence = gettext("%(machine)s is held for %(who)s until %(day)s.")
    places = {"machine": one.stay.unit, "who": one.facts.reserved_for, "day": day(until)}
    return Todo(
        sentence=(late if one.reservation_late else sentence) % places,
        since=one.stay.came_on,
        days=days_between(one.stay.came_on, on),
        late=one.reservation_late,
        href=reverse("readiness", args=[one.stay.pk]),
        deed=gettext("See it"),
    )


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
