"""Whether a repair is worth it, with the figures behind the word."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from shop.floor.domain.worth import Worth as Fetches
from shop.floor.selectors import worth_of_model
from shop.work.domain.not_worth import Parts, Weighed, Worth, any_of, weigh
from shop.work.models import EstimateLine, WorkOrder
from shop.work.selectors.inspections import population_of
from shop.work.selectors.needed import Word, components_needed
from units.inspections.domain.odds import Cell, stated
from units.inspections.selectors.odds import odds_of
from units.show.words import money, number

WORDS = {
    Worth.WORTH: (gettext_lazy("worth it"), "good"),
    Worth.DOUBTFUL: (gettext_lazy("doubtful"), "watch"),
    Worth.NOT_WORTH: (gettext_lazy("not worth it"), "stop"),
    Worth.CANNOT: (gettext_lazy("cannot be done so"), "stop"),
    Worth.UNKNOWN: (gettext_lazy("cannot be told"), ""),
}


@dataclass(frozen=True)
class Advice:
    """One way to choose (or the whole estimate) weighed: ``name`` is empty without a choice."""

    name: str
    cost: Decimal
    weighed: Weighed
    parts: Parts

    @property
    def word(self) -> str:
        return str(WORDS[self.weighed.word][0])

    @property
    def look(self) -> str:
        return WORDS[self.weighed.word][1]

    @property
    def sentence(self) -> str:
        return " ".join([self._money(), *self._parts()])

    def _money(self) -> str:
        words = {"cost": money(self.cost)}
        if self.weighed.share is None:
            return (
                _("%(cost)s before tax; nothing is known of what the machine would fetch.") % words
            )
        words["percent"] = number(Decimal(round(self.weighed.share * 100)))
        words["counted"] = money(self.weighed.counted)
        if self.parts.ends:
            return _("%(cost)s before tax, %(percent)s %% of the %(counted)s it counts at.") % words
        return _("%(cost)s before tax, %(percent)s %% of what the machine would fetch.") % words

    def _parts(self) -> list[str]:
        found = []
        if self.parts.cannot:
            text = _("It needs what cannot be had by any route: %(names)s.")
            found.append(text % {"names": ", ".join(self.parts.cannot)})
        if self.parts.unsure:
            text = _("Nobody knows whether this can be had; ask before it is promised: %(names)s.")
            found.append(text % {"names": ", ".join(self.parts.unsure)})
        return found


@dataclass(frozen=True)
class WorthPage:
    """``weighed`` says whether it was looked at what of the parts can be had; ``gone`` are the
    names of all that cannot."""

    fetches: Fetches | None
    advice: list[Advice]
    weighed: bool = False
    gone: tuple[str, ...] = ()
    ends: float = 0.0

    @property
    def lasting(self) -> str:
        """What the machine counts at where the next fault may end it; else nothing."""
        if not self.ends:
            return ""
        words = {"names": ", ".join(self.gone), "percent": number(Decimal(round(100 * self.ends)))}
        text = _(
            "These can no longer be had: %(names)s. Of machines like it that come in, about"
            " %(percent)s %% need one of them, and then it is at its end."
        )
        if self.fetches is None:
            return text % words
        words["counted"] = money(self.fetches.middle * (1 - Decimal(str(self.ends))))
        return text % words + " " + _("So it counts at %(counted)s.") % words

    @property
    def basis(self) -> str:
        """What the machine would fetch, and how well that is known."""
        if self.fetches is None:
            return _("No sale and no belief speaks of what such a machine fetches.")
        words = {
            "middle": money(self.fetches.middle),
            "low": money(self.fetches.low),
            "high": money(self.fetches.high),
        }
        text = _("Put right, it would fetch about %(middle)s (%(low)s to %(high)s).") % words
        return f"{text} {_behind(self.fetches)}"


def _behind(fetches: Fetches) -> str:
    if not fetches.of_kind:
        return _("We have sold none like it: this is what the shop believes.")
    return ngettext(
        "%(count)d sale of a like machine stands behind it.",
        "%(count)d sales of like machines stand behind it.",
        fetches.of_kind,
    ) % {"count": fetches.of_kind}


def worth_page(page, on: date, word: Word | None = None) -> WorthPage:
    """What :class:`EstimatePage` comes to beside the machine's worth and what can be had of its
    parts, as ``word`` says. One query more, two where something is gone."""
    job: WorkOrder = page.estimate.job
    if job.unit is None:
        return WorthPage(None, [])
    made_in = job.stay.made_in if job.stay else None
    fetches = worth_of_model(job.unit.model, on, made_in)
    middle = fetches.middle if fetches else None
    word = word or Word()
    ends = _ends(job, word.gone or {}, on)
    advice = []
    for name, cost, lines in _ways(page):
        parts = _parts_of(lines, word, ends)
        advice.append(Advice(name, cost, weigh(cost, middle, parts), parts))
    gone = tuple(_(name) for name in (word.gone or {}).values())
    return WorthPage(fetches, advice, word.gone is not None, gone, ends)


def _ways(page) -> list[tuple[str, Decimal, list[EstimateLine]]]:
    """``(name, cost, lines)`` of each way in which we do the work."""
    ways = [
        (str(one.alternative), one.sums.net, one.alternative)
        for one in page.choices
        if one.alternative.we_pay is None
    ]
    return [
        (name, cost, [line for line in page.lines if line.stands_in(alternative)])
        for name, cost, alternative in ways or [("", page.sums.net, None)]
    ]


def _parts_of(lines: list[EstimateLine], word: Word, ends: float) -> Parts:
    needed = components_needed(lines)
    names = {line.component_id: _(line.component.name) for line in lines if line.component}
    names |= {
        line.part.component_id: _(line.part.component.name)
        for line in lines
        if line.part and line.part.component
    }
    return Parts(
        cannot=tuple(names[one] for one in word.cannot if one in needed),
        unsure=tuple(names[one] for one in word.unsure if one in needed),
        ends=ends,
    )


def _ends(job: WorkOrder, gone, on: date) -> float:
    """The chance that a machine like it needs one of the components that are gone; of those
    without a stated chance nothing is said."""
    if not gone:
        return 0.0
    model = job.unit.model
    cells = [
        Cell(model.kind_id, slug, population_of(job), model.grade, model.pk)
        for slug in gone
        if (model.kind_id, slug) in stated().priors
    ]
    return any_of(chance.mean for chance in odds_of(cells, on).values())
