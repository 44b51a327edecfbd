"""The one sentence on top of a machine's coverage, and words for its routes."""

from collections.abc import Sequence
from dataclasses import dataclass

from babel.lists import format_list
from django.utils.translation import get_language, gettext, ngettext, to_locale
from django.utils.translation import gettext_lazy as _

from parts.answers.domain import support
from parts.support.domain import routes
from parts.support.domain.coverage import (
    GONE,
    HAD,
    STALE,
    UNASKED,
    UNKNOWN,
    Coverage,
    Covered,
    Need,
)
from parts.support.domain.routes import Core, Offer
from units.show.words import money

MOST_NAMED = 3
WORDS = {
    HAD: _("can be had"),
    STALE: _("stale"),
    GONE: _("cannot be had"),
    UNKNOWN: _("no answer"),
    UNASKED: _("not asked"),
}
LOOKS = {HAD: "good", STALE: "watch", GONE: "stop"}
ROUTES = {
    routes.SHELF: _("our shelf"),
    routes.DONOR: _("a donor here"),
    routes.MAKER: _("the maker"),
    routes.SUPPLIER: _("a supplier"),
    routes.REBUILD: _("rebuilt or exchanged"),
    routes.MADE: _("made to size"),
    routes.STANDARD: _("a standard part"),
}
STATUSES = {
    routes.HELD: _("here"),
    routes.STANDARD_SIZE: _("of a standard size"),
    support.SUPPORTED: _("supported"),
    support.LIMITED: _("limited"),
    support.BACK_ORDERED: _("back-ordered"),
    support.SUPERSEDED: _("replaced by another number"),
    support.ENDED: _("ended"),
    support.NO_ANSWER: _("no answer"),
    support.NOT_ASKED: _("not asked"),
}
VIA = {
    "fits": "",
    "superseded": _("by a later number"),
    "sister": _("from a sister model"),
    "standard": _("by its size"),
}


def sentence(coverage: Coverage) -> str:
    """What coverage comes to: what wears first, then what cannot be had, then what is not known."""
    counting = [one for one in coverage.components if one.place.counts]
    if not any(one.word != UNASKED for one in coverage.components):
        return gettext("Nobody has asked yet whether parts can be had.")
    clauses = [_of_wear(coverage)]
    if gone := [one for one in counting if one.word == GONE]:
        clauses.append(gettext("%(names)s cannot") % {"names": _names(gone)})
    if stale := [one for one in counting if one.word in (STALE, UNKNOWN)]:
        clauses.append(
            ngettext(
                "what is known of %(names)s is too old to count",
                "what is known of %(names)s is too old to count",
                len(stale),
            )
            % {"names": _names(stale)}
        )
    if unasked := [one for one in counting if one.word == UNASKED]:
        clauses.append(gettext("nobody has asked about %(names)s") % {"names": _names(unasked)})
    return "; ".join(clauses) + "."


def _of_wear(coverage: Coverage) -> str:
    wear = [one for one in coverage.components if one.place.wears]
    had = [one for one in wear if one.word == HAD]
    if coverage.wear_had:
        return gettext("Everything that wears can be had")
    if not had:
        return gettext("Nothing that wears can be counted on")
    return gettext("Of what wears, %(had)d of %(all)d can be had") % {
        "had": len(had),
        "all": len(wear),
    }


def _names(components: Sequence[Covered]) -> str:
    names = [_name(one) for one in components]
    if len(names) > MOST_NAMED:
        rest = len(names) - MOST_NAMED + 1
        more = ngettext("%(count)d other", "%(count)d others", rest) % {"count": rest}
        names = [*names[: MOST_NAMED - 1], more]
    return format_list(names, locale=to_locale(get_language() or "en"))


def _name(one: Covered) -> str:
    """The component, with the position that decides where another is better off."""
    named = {"component": gettext(one.place.name), "where": ", ".join(one.lacking)}
    if one.lacking:
        return gettext("the %(component)s (%(where)s)") % named
    return gettext("the %(component)s") % named


def core_words(core: Core | None) -> str:
    """What is wanted for the old one, apart from the price; nothing when nothing is."""
    if core is None:
        return ""
    named = {"charge": money(core.charge), "days": core.days}
    if not core.charge:
        if core.days is None:
            return gettext("the old one goes back")
        return (
            ngettext(
                "the old one goes back within %(days)d day",
                "the old one goes back within %(days)d days",
                core.days,
            )
            % named
        )
    if core.days is None:
        return gettext("and %(charge)s until the old one is back") % named
    return (
        ngettext(
            "and %(charge)s until the old one is back, within %(days)d day",
            "and %(charge)s until the old one is back, within %(days)d days",
            core.days,
        )
        % named
    )


@dataclass(frozen=True)
class Way:
    """One offer in words; ``core`` tells what is wanted for the old one beside the price."""

    offer: Offer
    route: str
    status: str
    via: str
    percent: int
    core: str = ""

    @property
    def has_odds(self) -> bool:
        """Silence is no word that could hold."""
        return self.offer.status != support.NO_ANSWER


@dataclass(frozen=True)
class SideRow:
    """One position of a component that needs different parts in several, in words."""

    position: str
    word: str
    look: str
    best: Way | None


@dataclass(frozen=True)
class Row:
    """One component in words: its word, its best way, and the others; ``sides`` when it needs
    different parts in several positions, of which the worst decides."""

    covered: Covered
    word: str
    ways: tuple[Way, ...]
    sides: tuple[SideRow, ...] = ()

    @property
    def best(self) -> Way | None:
        return self.ways[0] if self.ways else None

    @property
    def look(self) -> str:
        """The name of the state's look in the stylesheet."""
        return LOOKS.get(self.covered.word, "")


def rows(coverage: Coverage) -> list[Row]:
    return [
        Row(
            one,
            str(WORDS[one.word]),
            tuple(map(_way, one.offers)),
            tuple(map(_side, one.needs)) if len(one.needs) > 1 else (),
        )
        for one in coverage.components
    ]


def _side(need: Need) -> SideRow:
    best = _way(need.best) if need.best else None
    return SideRow(need.position, str(WORDS[need.word]), LOOKS.get(need.word, ""), best)


def _way(offer: Offer) -> Way:
    return Way(
        offer,
        str(ROUTES[offer.route]),
        str(STATUSES[offer.status]),
        str(VIA[offer.via]),
        round(100 * offer.holds),
        core_words(offer.core),
    )
