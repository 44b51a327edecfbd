"""What of a machine can be had: every component with its best route, and one word on the whole."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from parts.answers.domain.support import ENDED, NOT_ASKED
from parts.support.domain.routes import Offer, ranked

# What a component comes to. ``had``: a fresh yes by some route; ``stale``: only words too old to
# count; ``gone``: fresh or lasting noes only; ``unknown``: asked, without an answer; ``unasked``.
HAD, STALE, GONE, UNKNOWN, UNASKED = "had", "stale", "gone", "unknown", "unasked"
WORSE = [HAD, STALE, UNKNOWN, UNASKED, GONE]  # each worse than the one before it


@dataclass(frozen=True)
class Place:
    """A component of a kind of machine, and what it means to it."""

    slug: str
    name: str
    wears: bool = False
    critical: bool = False

    @property
    def counts(self) -> bool:
        return self.wears or self.critical


@dataclass(frozen=True)
class Need:
    """What a machine needs in one position of a component, and every way to it, the best first.

    ``position`` is empty unless the component takes different parts in different places.
    """

    offers: tuple[Offer, ...]
    quantity: Decimal = Decimal(1)
    position: str = ""

    @property
    def best(self) -> Offer | None:
        return self.offers[0] if self.offers else None

    @property
    def word(self) -> str:
        if any(one.counts for one in self.offers):
            return HAD
        if any(one.yes for one in self.offers):
            return STALE
        if any(one.status == ENDED and one.fresh for one in self.offers):
            return GONE
        if any(one.status == ENDED for one in self.offers):
            return STALE
        return UNASKED if all(one.status == NOT_ASKED for one in self.offers) else UNKNOWN

    @property
    def cost(self) -> Decimal | None:
        """What all pieces in this position cost by the best way, the charge for a core apart."""
        best = self.best
        return best.cost * self.quantity if best and best.counts and best.cost is not None else None


@dataclass(frozen=True)
class Covered:
    """One component and everything that is needed of it: it can be had only if each need can, so
    that the worst of them decides."""

    place: Place
    needs: tuple[Need, ...] = (Need(()),)

    @property
    def worst(self) -> Need:
        return max(self.needs, key=lambda one: WORSE.index(one.word))

    @property
    def word(self) -> str:
        return self.worst.word

    @property
    def offers(self) -> tuple[Offer, ...]:
        return self.worst.offers

    @property
    def best(self) -> Offer | None:
        return self.worst.best

    @property
    def lacking(self) -> list[str]:
        """The positions that decide, where others are better off."""
        found = [one.position for one in self.needs if one.word == self.word]
        return found if len(found) < len(self.needs) else []

    @property
    def stands_in(self) -> bool:
        """Whether only a word on the whole model speaks for it."""
        return bool(self.best) and self.best.route == "maker" and self.best.breadth == 0

    @property
    def cost(self) -> Decimal | None:
        """What all pieces of it cost by the best ways; nothing unless each need has its cost."""
        costs = [one.cost for one in self.needs]
        return None if None in costs else sum(costs, Decimal(0))


@dataclass(frozen=True)
class Coverage:
    """All components of one machine, those that wear or decide first."""

    components: tuple[Covered, ...]

    def of(self, word: str, counting: bool = False) -> list[Covered]:
        return [
            one
            for one in self.components
            if one.word == word and (one.place.counts or not counting)
        ]

    @property
    def count(self) -> dict[str, int]:
        """``{word: how many}``; the unasked apart from the noes."""
        return {word: len(self.of(word)) for word in (HAD, STALE, GONE, UNKNOWN, UNASKED)}

    @property
    def wear_had(self) -> bool:
        wear = [one for one in self.components if one.place.wears]
        return bool(wear) and all(one.word == HAD for one in wear)

    @property
    def done_for(self) -> list[Covered]:
        """Critical components that nobody can supply: the next fault in one ends the machine."""
        return [one for one in self.of(GONE) if one.place.critical]


def cover(places: Sequence[Place], needs: Mapping[str, Sequence[Need]]) -> Coverage:
    """Put the offers of each need in order; components that wear or decide come first.

    ``needs`` are by component; one of which nothing is known has a need without any offer.
    """
    order = sorted(places, key=lambda one: (not one.wears, not one.critical))
    return Coverage(tuple(Covered(one, _in_order(needs.get(one.slug, ()))) for one in order))


def _in_order(needs: Sequence[Need]) -> tuple[Need, ...]:
    found = tuple(replace(one, offers=tuple(ranked(one.offers))) for one in needs)
    return found or (Need(()),)
