"""What each seat must do next. Every function here answers in a constant number of queries."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta

from django.urls import reverse
from django.utils.translation import gettext, ngettext
from django.utils.translation import gettext_lazy as _

from parts.buying.selectors import shortages
from shop.floor.models import Stay
from shop.front.access import may_open
from shop.front.domain.todo import Group, Todo, days_between, is_late, late_first
from shop.front.selectors.asking import answers_to_ask
from shop.front.selectors.money import book_to_make, unpaid_invoices
from shop.front.selectors.sale import for_sale
from shop.people.seats import ACCOUNTANT, FRONT_DESK, OWNER, SEATS, TECHNICIAN
from shop.work.selectors.waiting import Waiting, parts_wanted, waiting_jobs
from units.plates.selectors import waiting_for_a_look
from units.recalls.selectors import open_matches

WEEK = timedelta(days=7)


@dataclass(frozen=True)
class Opening:
    """A seat's opening page: its groups, and the keys of ``PARTS`` that are fetched after it."""

    seat: str
    groups: list[Group]
    parts: tuple[str, ...]


def opening(seat: str, on: date) -> Opening:
    return Opening(seat, GROUPS[seat](on), PARTS_OF_SEAT[seat])


def _front_desk(on: date) -> list[Group]:
    waiting = waiting_jobs()
    return [
        _waiting_group(_("Calls to make and machines to hand back"), FRONT_DESK, waiting, on),
        unpaid_invoices(on),
        *plates_to_confirm(on),
    ]


def _technician(on: date) -> list[Group]:
    waiting = waiting_jobs()
    return [
        _waiting_group(_("On the bench, in this order"), TECHNICIAN, waiting, on),
        _waiting_group(_("Waits for somebody else"), TECHNICIAN, waiting, on, others=True),
    ]


def _owner(on: date) -> list[Group]:
    waiting = waiting_jobs()
    return [
        _waiting_group(_("Waits for you"), OWNER, waiting, on),
        _waiting_group(
            _("Waits for somebody else, longest first"), OWNER, waiting, on, others=True
        ),
        came_in(on),
        *plates_to_confirm(on),
    ]


def _accountant(on: date) -> list[Group]:
    return [book_to_make(on), unpaid_invoices(on)]


def _waiting_group(title, seat, waiting: list[Waiting], on, others=False) -> Group:
    """The jobs whose turn is this seat's, or (``others``) any other's."""
    found = [_todo(one, seat, on) for one in waiting if (one.seat == seat) != others]
    return Group(title, late_first(found), _("No job waits here."), reverse("job-list"))


def _todo(waiting: Waiting, seat: str, on: date) -> Todo:
    """A deed that is done by sending a form stands on the job's page, so the link leads there."""
    mine = waiting.seat == seat
    sentence = waiting.sentence
    if not mine:
        sentence = gettext("%(sentence)s It is the turn of the %(seat)s.") % {
            "sentence": sentence,
            "seat": SEATS[waiting.seat],
        }
    directly = mine and not waiting.deed.post and may_open([seat], waiting.url_name)
    return Todo(
        sentence=sentence,
        since=waiting.since,
        days=days_between(waiting.since, on),
        late=is_late(waiting.since, on, waiting.job.promised_on),
        href=waiting.href if directly else reverse("job", args=[waiting.job.number]),
        deed=str(waiting.deed.label) if mine else gettext("See the job"),
    )


def plates_to_confirm(on: date) -> list[Group]:
    """A sentence on the photos of plates that nobody confirmed; nothing if there are none."""
    count = waiting_for_a_look()
    if not count:
        return []
    sentence = ngettext(
        "%(count)d plate waits for a look.", "%(count)d plates wait for a look.", count
    )
    todo = Todo(sentence % {"count": count}, on, 0, False, reverse("plates"), gettext("Look"))
    return [Group(_("Plates"), (todo,), "")]


def recalls_to_decide(on: date) -> list[Group]:
    """A sentence on matches of recalls that hold machines from sale; nothing if there are none."""
    count = len(open_matches())
    if not count:
        return []
    sentence = ngettext(
        "%(count)d match of a recall and a machine waits for a decision.",
        "%(count)d matches of a recall and a machine wait for a decision.",
        count,
    )
    href, deed = reverse("recall-match-list"), gettext("Decide")
    return [Group(_("Recalls"), (Todo(sentence % {"count": count}, on, 0, False, href, deed),), "")]


def parts_short(on: date) -> list[Group]:
    """A sentence on what approved jobs lack and nobody ordered; nothing if they lack none."""
    count = len({one.part for one in shortages(parts_wanted(), on)})
    if not count:
        return []
    sentence = ngettext(
        "%(count)d part is short for an approved job and not on order.",
        "%(count)d parts are short for approved jobs and not on order.",
        count,
    )
    href, deed = reverse("parts-to-order"), gettext("Order")
    return [Group(_("Parts"), (Todo(sentence % {"count": count}, on, 0, False, href, deed),), "")]


def came_in(on: date) -> Group:
    """Machines that came in the last seven days. One query."""
    stays = Stay.objects.filter(came_on__gt=on - WEEK, came_on__lte=on)
    stays = stays.select_related("unit__model__maker", "owner", "came_from")
    return Group(
        _("Came in this week"),
        tuple(_came(stay, on) for stay in stays),
        _("Nothing came in during the last seven days."),
        reverse("machine-list"),
    )


def _came(stay: Stay, on: date) -> Todo:
    if stay.owner:
        sentence = gettext("%(machine)s came for repair from %(whose)s.")
    else:
        sentence = gettext("%(machine)s was bought of %(whose)s.")
    whose = stay.owner or stay.came_from or gettext("somebody unnamed")
    return Todo(
        sentence=sentence % {"machine": stay.unit, "whose": whose},
        since=stay.came_on,
        days=days_between(stay.came_on, on),
        late=False,
        href=reverse("machine", args=[stay.unit_id]),
        deed=gettext("See the machine"),
    )


GROUPS: dict[str, Callable[[date], list[Group]]] = {
    FRONT_DESK: _front_desk,
    TECHNICIAN: _technician,
    OWNER: _owner,
    ACCOUNTANT: _accountant,
}
# Fetched on their own after the page stands, so that each answer stays quick.
PARTS: dict[str, tuple[str, Callable[[date], list[Group]]]] = {
    "answers": (_("Calls to makers"), answers_to_ask),
    "sale": (_("For sale"), for_sale),
    "recalls": (_("Recalls"), recalls_to_decide),
    "parts": (_("Parts to order"), parts_short),
}
PARTS_OF_SEAT = {
    FRONT_DESK: ("answers",),
    TECHNICIAN: ("recalls", "sale"),
    OWNER: ("recalls", "parts", "sale", "answers"),
    ACCOUNTANT: (),
}
