"""What the page of a bid shows, from the figures that were kept."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from itertools import pairwise

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from shop.lots.domain.assumptions import stated
from shop.lots.domain.inputs import FATES
from shop.lots.domain.pictures import (
    Picture,
    drivers_picture,
    machines_picture,
    odds_picture,
    profit_picture,
)
from shop.lots.domain.recording import other_versions
from shop.lots.models import Lot, LotLine, Valuation
from shop.lots.selectors.figures import Figure, sheet_of, shop_figures

WAYS = {
    "repair": gettext_lazy("put right and sold"),
    "as-is": gettext_lazy("sold as it is"),
    "donor": gettext_lazy("donor"),
    "scrap": gettext_lazy("scrap"),
}
VERSIONS = {
    "reckoning": gettext_lazy("the way of reckoning"),
    "table": gettext_lazy("the table of stated figures"),
    "numpy": gettext_lazy("numpy"),
    "python": gettext_lazy("Python"),
}
REFUSALS_SHOWN, FIRST_SHOWN = 6, 10


@dataclass(frozen=True)
class PricedModel:
    """What a model of the lot is taken to sell for, and what stands behind it, in a sentence."""

    key: str
    price: float
    typed: bool
    behind: str
    odds_behind: str


@dataclass(frozen=True)
class BidPage:
    """A valuation that was reckoned, ready to be shown."""

    valuation: Valuation
    profit: Picture
    odds: Picture
    machines: Picture
    drivers: Picture
    first: list[dict]  # questions worth asking, the most a minute first
    silent: int  # questions that cannot be told from nothing
    refuse: list[dict]
    figures: list[Figure]
    models: list[PricedModel]
    changed: list[str]  # versions that differ from those of the valuation reckoned again
    before: Valuation | None  # the bid for the lot before this one

    @property
    def bins(self) -> list[tuple[float, float, float]]:
        """The rows behind the picture of the profit: from, to, percent."""
        kept = self.valuation.figures["profits"]
        bounds = zip(pairwise(kept["x"]), kept["y"], strict=True)
        return [(low, high, 100 * share) for (low, high), share in bounds]

    @property
    def odds_rows(self) -> list[tuple[float, float]]:
        kept = self.valuation.figures["odds"]
        return [(x, 100 * y) for x, y in zip(kept["x"], kept["y"], strict=True)][::4]

    @property
    def machine_rows(self) -> list[tuple[dict, list[tuple[str, float]]]]:
        rows = self.valuation.figures["machines"]
        return [(one, [(WAYS[fate], 100 * one["fates"][fate]) for fate in FATES]) for one in rows]

    @property
    def driver_rows(self) -> list[tuple[str, dict]]:
        """The names of the assumptions, and the most to pay at both their bounds."""
        rows = self.valuation.figures["drivers"]
        return [(stated()[one["key"]].name, one) for one in rows if one["key"] in stated()]

    @property
    def driver_bars(self) -> list:
        """The rows of the picture of the drivers, each with the name of its assumption."""
        return [(row, stated()[row.name].name) for row in self.drivers.rows if row.name in stated()]

    @property
    def met(self) -> int:
        return round(100 * self.valuation.figures["met"])

    @property
    def taken(self) -> float:
        """In how many of 100 a seller takes the opening offer."""
        return 100 * self.valuation.figures["opening_taken"]

    @property
    def later(self) -> int:
        """How many questions stand behind the first."""
        return max(0, len(self.first) - FIRST_SHOWN)

    @property
    def untried(self) -> tuple[int, int] | None:
        """How many sorts of machines and goods were tried without, of how many; None for all."""
        tried = len(self.valuation.figures["refusals"])
        all_of_them = self.valuation.figures.get("refusable", tried)
        return (tried, all_of_them) if tried < all_of_them else None

    @property
    def unweighed(self) -> tuple[int, int] | None:
        """How many calls and looks were weighed, of how many; None for all."""
        weighed = len(self.valuation.figures["calls_first"])
        open_ones = self.valuation.figures.get("askable", weighed)
        return (weighed, open_ones) if weighed < open_ones else None

    @property
    def driver_draws(self) -> int | None:
        """On how many draws the drivers were reckoned; None for all."""
        draws = self.valuation.figures.get("driver_draws", self.valuation.draws)
        return draws if draws < self.valuation.draws else None

    @property
    def since(self) -> list[tuple[float, float]]:
        """The most to pay and the break-even of the bid before, each with its change since."""
        keys = ("most_to_pay", "break_even") if self.before else ()
        then, now = self.before and self.before.figures, self.valuation.figures
        return [(then[key], now[key] - then[key]) for key in keys]

    @property
    def same(self) -> bool:
        """Whether one that was reckoned again came out as the first did; what is kept only since
        then is not compared."""
        first, now = self.valuation.again_of, self.valuation.figures
        return bool(first) and all(now.get(key) == one for key, one in first.figures.items())


def bid_page(pk: int) -> tuple[Valuation, BidPage | None]:
    """A valuation, and its page once it is reckoned. Six queries. Raises DoesNotExist."""
    rows = Valuation.objects.select_related("lot__seller", "wanted_by", "again_of")
    valuation = rows.get(pk=pk)
    if valuation.state != Valuation.State.DONE:
        return valuation, None
    figures = valuation.figures
    asked = None if valuation.asked is None else float(valuation.asked)
    calls = figures["calls_first"]
    first = valuation.again_of
    changed = other_versions(first.versions) if first else {}
    return valuation, BidPage(
        valuation,
        profit_picture(figures),
        odds_picture(figures, float(valuation.odds), asked),
        machines_picture(figures),
        drivers_picture(figures),
        first=_first(valuation.lot, calls),
        silent=sum(not one["tells"] for one in calls),
        refuse=_refused(valuation),
        figures=_sheet(valuation),
        models=priced_models(valuation),
        changed=[str(VERSIONS[name]) for name in changed],
        before=None if first else _before(valuation),
    )


def _before(valuation: Valuation) -> Valuation | None:
    """The bid for the same lot that was reckoned from its list before. One query."""
    done = Valuation.objects.filter(lot=valuation.lot, state=Valuation.State.DONE, again_of=None)
    earlier = done.filter(wanted_at__lt=valuation.wanted_at).order_by("-wanted_at", "-pk")
    return earlier.only("wanted_at", "figures").first()


def _sheet(valuation: Valuation) -> list[Figure]:
    """The assumptions as they were reckoned with, whatever is stated or set since. One query."""
    kept = dict(valuation.inputs["assumptions"])
    kept["lot_weight"], kept["machine_weight"] = kept["dependence"][0]
    figures = shop_figures((valuation.again_of or valuation).wanted_at)
    sheet = sheet_of(figures, valuation.typed)
    return [replace(one, value=float(kept.get(one.stated.key, one.value))) for one in sheet]


def _first(lot: Lot, calls: list[dict]) -> list[dict]:
    """The questions that tell, each with the ``id`` of its model where the lot still has it. One
    query."""
    lines = lot.lines.filter(model__isnull=False).order_by()
    lines = lines.select_related("model__maker", "model__merged_into__maker")
    ids = {str(line.model.current): line.model.current.pk for line in lines}
    return [{**one, "id": ids.get(one["model"])} for one in calls if one["tells"]]


def _refused(valuation: Valuation) -> list[dict]:
    """What had better be left, with its name, the line of the list, and how many are like it. One
    query."""
    goods = valuation.lot.lines.filter(sort=LotLine.Sort.GOODS).order_by()
    names = {str(position): text for position, text in goods.values_list("position", "text")}
    names |= {
        one["key"]: valuation.inputs["models"][one["model"]]["key"]
        for one in valuation.inputs["machines"]
    }
    told = [one for one in valuation.figures["refusals"] if one["change"] > 0]
    return [
        {
            **one,
            "name": names.get(one["key"], ""),
            "line": one["key"].rsplit("-", 1)[0],
            "count": len(one["like"]),
        }
        for one in told[:REFUSALS_SHOWN]
    ]


def priced_models(valuation: Valuation) -> list[PricedModel]:
    """The models of a valuation that was reckoned, each once."""
    found: dict[str, PricedModel] = {}
    for one in (valuation.inputs or {"models": []})["models"]:
        key = one["key"]
        behind = valuation.origins.get(key, {})
        found[key] = PricedModel(
            key,
            one["market"]["price"]["mean"],
            f"price:{key}" in valuation.typed,
            _price_behind(behind),
            _odds_behind(behind),
        )
    return sorted(found.values(), key=lambda one: one.key)


def _price_behind(behind: Mapping) -> str:
    sales = behind.get("sales", 0)
    if not sales:
        return _("shop default: no sale of our own speaks of it yet")
    return ngettext(
        "%(sales)d sale of our own of its kind and grade, %(own)d of the model",
        "%(sales)d sales of our own of its kind and grade, %(own)d of the model",
        sales,
    ) % {"sales": sales, "own": behind.get("own_sales", 0)}


def _odds_behind(behind: Mapping) -> str:
    looks = behind.get("looks", 0)
    if not looks:
        return _("shop default: nobody has looked at one yet")
    return ngettext(
        "%(looks)d look of our own at a component",
        "%(looks)d looks of our own at its components",
        looks,
    ) % {"looks": looks}


def newest_valuation(lot: Lot) -> Valuation | None:
    """The newest that was reckoned from the list itself. One query."""
    done = lot.valuations.filter(state=Valuation.State.DONE, again_of=None)
    return done.order_by("-wanted_at", "-pk").first()
