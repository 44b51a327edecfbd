"""Ready for sale or not: derived whenever it is asked, never stored."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.db.models import QuerySet
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from shop.floor.models import Stay
from shop.resale.domain.readiness import RECALL_CHECK_DAYS, Facts, Gap, gaps
from shop.resale.models import Grading
from shop.resale.selectors.facts import facts_of, with_facts

# For every gap: the sentence, the URL that mends it, and what that URL is about.
WORDS = {
    "plate": (_("Its serial plate is not confirmed by a photo."), "plate-add", "unit"),
    "recall-open": (
        _("Recall %(names)s may mean it, and nobody has decided yet. Until then it is not sold."),
        "machine-recalls",
        "unit",
    ),
    "recall-confirmed": (
        _("Recall %(names)s means it. It may not be sold; nothing overrides this."),
        "machine-recalls",
        "unit",
    ),
    "recall-unread": (
        _("Nobody has read the list of recalls for it yet."),
        "recall-check-add",
        "unit",
    ),
    "recall-fits": (
        _("A recall fits it. A recalled machine may not be sold; nothing overrides this."),
        "recall-check-add",
        "unit",
    ),
    "recall-unsure": (
        _("It is not settled whether a recall fits it. Find out from the maker."),
        "recall-check-add",
        "unit",
    ),
    "recall-old": (
        _("The list of recalls was read more than %(days)s days ago. Read it again."),
        "recall-check-add",
        "unit",
    ),
    "inspection": (_("It was not inspected since it came."), "machine", "unit"),
    "open-job": (_("Job %(names)s on it is still open."), "job", "job"),
    "findings": (_("Not put right yet: %(names)s."), "machine", "unit"),
    "test": (_("It has no final test since it came."), "machine", "unit"),
    "test-failed": (_("It did not pass its final test."), "machine", "unit"),
    "test-old": (
        _("Work was done after its final test. Test it again."),
        "machine",
        "unit",
    ),
    "support": (
        _("Nobody knows whether its maker still supplies parts. Ask."),
        "answer-add",
        "model",
    ),
    "support-stale": (
        _("What its maker said about parts is too old. Ask again."),
        "answer-add",
        "model",
    ),
    "supply": (
        _("The supply and plug of its model are not written down."),
        "model-edit",
        "model",
    ),
    "grading": (_("It is not graded."), "grading-add", "stay"),
    "cleaned": (_("It is not cleaned."), "grading-add", "stay"),
    "safety-key": (_("Its safety key is not with it."), "grading-add", "stay"),
    "photo": (_("It has no photo for sale."), "photo-add", "unit"),
    "price": (_("It has no asking price."), "price-set", "stay"),
    "price-below": (
        _("Its price is below the least price, and nobody said why."),
        "price-set",
        "stay",
    ),
}


@dataclass(frozen=True)
class Unmet:
    """A condition of the retail exit that is not met: a sentence and where to mend it."""

    key: str
    sentence: str
    url_name: str
    url_args: tuple

    @property
    def href(self) -> str:
        return reverse(self.url_name, args=self.url_args)


@dataclass(frozen=True)
class ForSale:
    """One of our machines that stands here; ``stay`` carries its newest price and grade."""

    stay: Stay
    facts: Facts
    unmet: list[Unmet]

    @property
    def ready(self) -> bool:
        return not self.unmet

    @property
    def grade(self) -> str:
        return Grading.Grade(self.stay.grade).label if self.stay.grade else ""


def readiness_of(stays: Iterable[Stay], on: date) -> dict[int, list[Unmet]]:
    """What each of our machines still needs for the retail exit, by stay; constant queries."""
    chosen = Stay.objects.filter(pk__in=[stay.pk for stay in stays])
    return {one.stay.pk: one.unmet for one in _look_at(chosen, on)}


def our_stays() -> QuerySet[Stay]:
    """Our own machines that stand here."""
    return Stay.objects.ours().here()


def for_sale(stays: QuerySet[Stay], on: date, state: str = "") -> list[ForSale]:
    """Machines of :func:`our_stays`: the ready ones first, then the nearly ready.

    ``state`` is ``ready``, ``not-ready`` or nothing for both.
    """
    found = _look_at(stays, on)
    if state:
        found = [one for one in found if one.ready == (state == "ready")]
    return sorted(found, key=lambda one: (len(one.unmet), one.stay.came_on, one.stay.pk))


def one_for_sale(pk: int, on: date) -> ForSale:
    """One of our machines that stands here. Raises Stay.DoesNotExist."""
    found = _look_at(our_stays().filter(pk=pk), on)
    if not found:
        raise Stay.DoesNotExist
    return found[0]


def _look_at(stays, on: date) -> list[ForSale]:
    rows = list(with_facts(stays))
    facts = facts_of(rows, on)
    return [
        ForSale(
            stay,
            facts[stay.pk],
            [_unmet(gap, stay) for gap in gaps(facts[stay.pk])],
        )
        for stay in rows
    ]


def _unmet(gap: Gap, stay: Stay) -> Unmet:
    sentence, url_name, about = WORDS[gap.key]
    subjects = {
        "unit": stay.unit_id,
        "model": stay.unit.model_id,
        "stay": stay.pk,
        "job": stay.open_job,
    }
    words = {"names": ", ".join(gap.names), "days": RECALL_CHECK_DAYS}
    return Unmet(gap.key, str(sentence) % words, url_name, (subjects[about],))
