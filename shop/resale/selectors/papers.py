"""What the paper of an exit tells, and what stands written down of a machine's way out."""

from dataclasses import dataclass
from datetime import date

from django.db.models import QuerySet
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from parts.answers.models import Answer
from shop.resale.domain.exits import Exit
from shop.resale.domain.readiness import UNKNOWN_SUPPORT, Facts
from shop.resale.models import Disclosure, HoldingRule, Reservation, Waiver
from shop.resale.selectors.exits import exits
from units.show.words import day

MOST = 50
LET_PASS = {
    "photo": gettext_lazy("no photo for sale"),
    "holding": gettext_lazy("the holding period"),
    "plate": gettext_lazy("the plate is not confirmed"),
    "inspection": gettext_lazy("not inspected"),
}


@dataclass(frozen=True)
class Draft:
    """What a paper that is attached now would tell."""

    way: Exit
    faults: tuple[tuple[str, str], ...]
    terms: tuple[str, ...]
    support: str
    support_words: str


def draft_of(facts: Facts, way: Exit) -> Draft:
    return Draft(way, tuple(facts.faults), way.terms, facts.support_said, support_words(facts))


def support_words(facts: Facts) -> str:
    """One sentence to the buyer on whether parts can be had."""
    if facts.support in UNKNOWN_SUPPORT:
        return _("Whether parts for it can still be had is not known to us.")
    said = {"day": day(facts.support_given_on), "word": Answer.Status(facts.support).label}
    if not facts.support_fresh:
        return (
            _("Its maker's word on parts is old and may no longer hold: %(word)s, %(day)s.") % said
        )
    return _("Its maker's word on parts: %(word)s, %(day)s.") % said


def papers_of(stay) -> list[Disclosure]:
    """What was attached, the newest first; each with the name of its ``way``."""
    return _by_name(stay.disclosures.select_related("attached_by")[:MOST])


def waivers_of(stay) -> list[Waiver]:
    """What was let pass, each with the name of its ``way`` and in a word ``what``."""
    waivers = _by_name(stay.waivers.select_related("waived_by")[:MOST])
    for one in waivers:
        one.what = LET_PASS.get(one.condition, one.condition)
    return waivers


def _by_name(rows) -> list:
    found, known = list(rows), exits()
    for row in found:
        row.way = known[row.exit].name if row.exit in known else row.exit
    return found


def reservation_of(stay) -> Reservation | None:
    """The one that is not over."""
    rows = Reservation.objects.select_related("customer", "deposit", "reserved_by")
    return rows.filter(stay=stay, over_at=None).first()


def holding_rules() -> QuerySet[HoldingRule]:
    return HoldingRule.objects.select_related("set_by")


def holding_days(on: date) -> int | None:
    """How long a bought machine is held; None where nobody has written it down."""
    rule = HoldingRule.objects.filter(from_on__lte=on).first()
    return rule and rule.days
