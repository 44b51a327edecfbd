"""Ready to leave by which exit: derived whenever it is asked, never stored."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from django.db.models import QuerySet
from django.urls import reverse

from shop.floor.models import Stay
from shop.resale.domain.exits import Exit
from shop.resale.domain.readiness import RECALL_CHECK_DAYS, Facts, Gap, gaps
from shop.resale.models import Grading
from shop.resale.selectors.exits import exits, retail
from shop.resale.selectors.facts import facts_of, with_facts
from shop.resale.selectors.words import WORDS
from units.show.words import day


@dataclass(frozen=True)
class Unmet:
    """A condition of an exit that is not met: a sentence and where to mend it.

    ``names`` are what it speaks of; ``waivable`` says whether the owner may let it pass.
    """

    key: str
    sentence: str
    url_name: str
    url_args: tuple
    names: tuple[str, ...] = ()
    waivable: bool = False

    @property
    def href(self) -> str:
        return reverse(self.url_name, args=self.url_args)


@dataclass(frozen=True)
class WayOut:
    """One exit of one machine, and what it still asks for."""

    exit: Exit
    unmet: list[Unmet]

    @property
    def open(self) -> bool:
        return not self.unmet


@dataclass(frozen=True)
class ForSale:
    """One of our machines that stands here; ``stay`` carries its newest price and grade."""

    stay: Stay
    facts: Facts

    @cached_property
    def unmet(self) -> list[Unmet]:
        """What the retail exit still asks for."""
        return self.by(retail()).unmet

    @property
    def to_see_to(self) -> list[Unmet]:
        """What is unmet besides its reservation, which its state says already."""
        return [gap for gap in self.unmet if gap.key != "reserved"]

    @property
    def ready(self) -> bool:
        return not self.unmet

    @property
    def reserved(self) -> bool:
        return bool(self.facts.reserved_for)

    @property
    def reservation_late(self) -> bool:
        """Whether the day until which it is reserved has passed."""
        return self.reserved and self.facts.reserved_until < self.facts.on

    @property
    def grade(self) -> str:
        return Grading.Grade(self.stay.grade).label if self.stay.grade else ""

    def by(self, way: Exit) -> WayOut:
        return WayOut(way, [_unmet(gap, way, self) for gap in gaps(self.facts, way)])

    @cached_property
    def ways_out(self) -> list[WayOut]:
        return [self.by(way) for way in exits().values()]


def readiness_of(stays: Iterable[Stay], on: date, way: Exit | None = None) -> dict[int, list]:
    """What each of our machines still needs for an exit (retail), by stay; constant queries."""
    way = way or retail()
    chosen = Stay.objects.filter(pk__in=[stay.pk for stay in stays])
    return {one.stay.pk: one.by(way).unmet for one in _look_at(chosen, on)}


def our_stays() -> QuerySet[Stay]:
    """Our own machines that stand here."""
    return Stay.objects.ours().here()


def for_sale(stays: QuerySet[Stay], on: date, state: str = "") -> list[ForSale]:
    """Machines of :func:`our_stays`: the ready ones first, then the nearly ready.

    ``state`` is ``ready``, ``not-ready``, ``reserved`` or nothing for all.
    """
    wanted = {
        "": lambda one: True,
        "ready": lambda one: one.ready,
        "not-ready": lambda one: not one.ready and not one.reserved,
        "reserved": lambda one: one.reserved,
    }
    found = [one for one in _look_at(stays, on) if wanted[state](one)]
    return sorted(found, key=lambda one: (len(one.unmet), one.stay.came_on, one.stay.pk))


def one_for_sale(pk: int, on: date) -> ForSale:
    """One of our machines that stands here. Raises Stay.DoesNotExist."""
    found = _look_at(our_stays().filter(pk=pk), on)
    if not found:
        raise Stay.DoesNotExist
    return found[0]


def _look_at(stays, on: date) -> list[ForSale]:
    rows = list(with_facts(stays, on))
    facts = facts_of(rows, on)
    return [ForSale(stay, facts[stay.pk]) for stay in rows]


def _unmet(gap: Gap, way: Exit, one: ForSale) -> Unmet:
    sentence, url_name, about = WORDS[gap.key]
    stay, facts = one.stay, one.facts
    subjects = {
        "": (),
        "unit": (stay.unit_id,),
        "model": (stay.unit.model_id,),
        "stay": (stay.pk,),
        "exit": (stay.pk, way.key),
        "job": (stay.open_job,),
    }
    words = {"names": ", ".join(gap.names), "days": RECALL_CHECK_DAYS}
    words |= {"reserved": facts.reserved_for, "until": _day(facts.reserved_until)}
    words["held"] = _day(facts.held_through)
    args = subjects[about]
    return Unmet(gap.key, str(sentence) % words, url_name, args, gap.names, gap.waivable)


def _day(on: date | None) -> str:
    return day(on) if on else ""
