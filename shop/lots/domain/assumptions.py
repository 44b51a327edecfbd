"""The stated assumptions of a valuation, each with its bounds and where it comes from."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

from shop.lots.domain.haul import HaulTable
from shop.lots.domain.prices import Terms

TERMS = ("margin", "odds")  # of [decision], set beside the assumptions
TABLE = Path(__file__).parents[3] / "fixtures/reference/lots.toml"


@dataclass(frozen=True)
class Stated:
    """One figure: what is reckoned with, its 10th and 90th percentile, and its origin."""

    key: str
    name: str
    base: float
    low: float
    high: float
    unit: str
    origin: str


@cache
def table() -> dict:
    """``lots.toml`` as it stands."""
    return tomllib.loads(TABLE.read_text(encoding="utf-8"))


@cache
def stated() -> dict[str, Stated]:
    """The stated assumptions by key."""
    return {key: Stated(key, **row) for key, row in table()["assumptions"].items()}


@cache
def stated_haul() -> HaulTable:
    """The stated figures of trucks and crew."""
    rows = dict(table()["haul"])
    crew = tuple((float(mass), int(people)) for mass, people in rows.pop("crew"))
    return HaulTable(**rows, crew=crew)


@cache
def stated_terms() -> Terms:
    """The stated margin and how sure it has to be."""
    return Terms(**table()["decision"])


@dataclass(frozen=True)
class Assumptions:
    """What a valuation reckons with; each figure is explained in ``lots.toml`` under its name.

    ``dependence`` holds pairs of equal weight: how much of a latent value the lot, and how much the
    machine makes up. The draws are shared out over the pairs, so several of them stand for a doubt.
    """

    dependence: tuple[tuple[float, float], ...]
    odds_shift: float
    market_sd: float
    price_factor: float
    parts_factor: float
    minutes_factor: float
    months_factor: float
    bench_rate: float
    bench_hours: float
    bench_months: float
    storage: float
    money: float
    as_is_share: float
    as_is_takes: float
    donor_falls: float
    haul: HaulTable

    def __post_init__(self):
        if not self.dependence:
            raise ValueError("at least one pair of weights is needed")
        if any(a < 0 or b < 0 or a * a + b * b >= 1 for a, b in self.dependence):
            raise ValueError("the squares of both weights stay below one together")
        if self.bench_hours <= 0:
            raise ValueError("without bench hours nothing can be valued")


def base_assumptions() -> Assumptions:
    """Every figure at its base."""
    figures = {key: one.base for key, one in stated().items()}
    dependence = ((figures.pop("lot_weight"), figures.pop("machine_weight")),)
    return Assumptions(dependence=dependence, haul=stated_haul(), **figures)


def with_figure(assumptions: Assumptions, key: str, value: float) -> Assumptions:
    """The same assumptions but for one; the two weights of dependence go by their own keys."""
    return with_figures(assumptions, {key: value})


def with_figures(assumptions: Assumptions, figures: Mapping[str, float]) -> Assumptions:
    """The same assumptions but for these. Raises ``ValueError`` where they cannot be together."""
    figures = dict(figures)
    lot, machine = figures.pop("lot_weight", None), figures.pop("machine_weight", None)
    pairs = tuple(
        (a if lot is None else lot, b if machine is None else machine)
        for a, b in assumptions.dependence
    )
    return replace(assumptions, **{**figures, "dependence": pairs})
