"""From the lines of a list to a lot that can be valued, as everything is known on a day."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date

from shop.lots.domain.assumptions import base_assumptions, with_figures
from shop.lots.domain.composing import ModelFacts, model_of
from shop.lots.domain.haul import Site
from shop.lots.domain.inputs import AT_HAND, Lot
from shop.lots.domain.listed import GoodsLine, MachineLine, goods_of, machines_of
from shop.lots.selectors.inputs import Known, Origin, known_of
from units.inspections.domain.odds import CLUB


@dataclass(frozen=True)
class Frame:
    """What is said of a lot beside its lines. ``typed`` are figures that somebody set, for
    every lot or for this one: of assumptions by their keys, of prices as ``price:`` and the
    model."""

    site: Site = AT_HAND
    other_costs: float = 0.0
    population: str = CLUB
    typed: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True)
class Composed:
    """A lot, with what stands behind each of its models, and the lines that could not be valued."""

    lot: Lot
    origins: dict[str, Origin]
    left_out: tuple[MachineLine, ...]

    @property
    def priors_only(self) -> bool:
        """Whether all odds are still priors: nobody looked at machines like these."""
        return not any(one.looks for one in self.origins.values())


def compose_lot(lines: Iterable[MachineLine | GoodsLine], frame: Frame, on: date) -> Composed:
    """The lot that these lines make, with today's odds, prices and words on parts."""
    lines = list(lines)
    machines = [one for one in lines if isinstance(one, MachineLine)]
    counted = Counter()
    for line in machines:
        counted[line.wanted] += line.count
    known = known_of(counted, on, frame.population)
    models = {one: model_of(_typed(it.facts, frame.typed)) for one, it in known.items()}
    valued = [line for line in machines if line.wanted in known]
    goods = [goods_of(line) for line in lines if isinstance(line, GoodsLine)]
    figures = {key: value for key, value in frame.typed.items() if ":" not in key}
    assumptions = with_figures(base_assumptions(), figures)
    lot = Lot(
        tuple(machines_of(valued, models)),
        assumptions,
        tuple(goods),
        frame.site,
        frame.other_costs,
    )
    left = tuple(line for line in machines if line.wanted not in known)
    return Composed(lot, _origins(known.values()), left)


def _typed(facts: ModelFacts, typed: Mapping[str, float]) -> ModelFacts:
    """A model at the mean price that somebody typed, if anybody did."""
    mean = typed.get(f"price:{facts.key}")
    if mean is None:
        return facts
    market = replace(facts.market, price=replace(facts.market.price, mean=mean))
    return replace(facts, market=market)


def _origins(known: Iterable[Known]) -> dict[str, Origin]:
    """By model; of one with machines in several bands of hours, that with the most looks."""
    found: dict[str, Origin] = {}
    for one in known:
        held = found.get(one.facts.key)
        if held is None or one.origin.looks > held.looks:
            found[one.facts.key] = one.origin
    return found
