"""Whether a repair is worth it, with the figures behind the word."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from shop.floor.domain.worth import Worth as Fetches
from shop.floor.selectors import worth_of_model
from shop.work.domain.not_worth import Weighed, Worth, weigh
from shop.work.models import Estimate
from units.show.words import money, number

WORDS = {
    Worth.WORTH: (gettext_lazy("worth it"), "good"),
    Worth.DOUBTFUL: (gettext_lazy("doubtful"), "watch"),
    Worth.NOT_WORTH: (gettext_lazy("not worth it"), "stop"),
    Worth.UNKNOWN: (gettext_lazy("cannot be told"), ""),
}


@dataclass(frozen=True)
class Advice:
    """One way to choose (or the whole estimate) weighed: ``name`` is empty without a choice."""

    name: str
    cost: Decimal
    weighed: Weighed

    @property
    def word(self) -> str:
        return str(WORDS[self.weighed.word][0])

    @property
    def look(self) -> str:
        return WORDS[self.weighed.word][1]

    @property
    def sentence(self) -> str:
        words = {"cost": money(self.cost)}
        if self.weighed.share is None:
            return (
                _("%(cost)s before tax; nothing is known of what the machine would fetch.") % words
            )
        words["percent"] = number(Decimal(round(self.weighed.share * 100)))
        return _("%(cost)s before tax, %(percent)s %% of what the machine would fetch.") % words


@dataclass(frozen=True)
class WorthPage:
    fetches: Fetches | None
    advice: list[Advice]

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


def worth_page(page, on: date) -> WorthPage:
    """What :class:`EstimatePage` comes to beside the machine's worth. One query more."""
    estimate: Estimate = page.estimate
    unit = estimate.job.unit
    if unit is None:
        return WorthPage(None, [])
    made_in = estimate.job.stay.made_in if estimate.job.stay else None
    fetches = worth_of_model(unit.model, on, made_in)
    middle = fetches.middle if fetches else None
    costs = [
        (str(one.alternative), one.sums.net)
        for one in page.choices
        if one.alternative.we_pay is None
    ]
    advice = [
        Advice(name, cost, weigh(cost, middle)) for name, cost in costs or [("", page.sums.net)]
    ]
    return WorthPage(fetches, advice)
