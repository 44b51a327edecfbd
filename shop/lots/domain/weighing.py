"""What the most to pay hangs on: each machine, and each assumption."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from shop.lots.domain.assumptions import stated, with_figure
from shop.lots.domain.inputs import Machine
from shop.lots.domain.prices import Terms
from shop.lots.domain.valuing import Valuation, limit_of, revalue, value_lot

# What changes the state in which machines are found, so that they have to be drawn again.
DRAWN = {"lot_weight", "machine_weight", "odds_shift"}


@dataclass(frozen=True)
class Refusal:
    """By how much the most to pay changes without a machine (or goods): above nothing, refuse it.

    ``like`` are the keys of machines about which exactly the same is known; each alone does the
    same, two of them need not do twice as much.
    """

    key: str
    like: tuple[str, ...]
    change: float


@dataclass(frozen=True)
class Driver:
    """The most to pay with one assumption at its 10th and at its 90th percentile."""

    key: str
    low: float
    high: float

    @property
    def swing(self) -> float:
        return abs(self.high - self.low)


def refusals(valuation: Valuation, terms: Terms) -> list[Refusal]:
    """What leaving out each machine and each line of goods does, most to be gained first.

    The draws are the same and the haul is reckoned anew. Of machines about which the same is known
    the last one is left out. Changes are of the exact limit, also where that is below nothing.
    """
    base = limit_of(valuation, terms).exact
    found = []
    for keys in [*_alike(valuation.lot.machines), *([one.key] for one in valuation.lot.goods)]:
        left = revalue(valuation.lot, valuation.looked, without={keys[-1]})
        change = limit_of(left, terms).exact - base
        found.append(Refusal(keys[-1], tuple(keys), change))
    return sorted(found, key=lambda one: -one.change)


def _alike(machines: Iterable[Machine]) -> list[list[str]]:
    """Keys of machines about which the same is known, together."""
    groups: list[tuple[Machine, list[str]]] = []
    for machine in machines:
        unnamed = replace(machine, key="")
        for one, keys in groups:
            if one.model is machine.model and one == unnamed:
                keys.append(machine.key)
                break
        else:
            groups.append((unnamed, [machine.key]))
    return [keys for _, keys in groups]


def drivers(valuation: Valuation, terms: Terms, keys: Iterable[str] | None = None) -> list[Driver]:
    """Each stated assumption at its bounds with the others as they are, greatest swing first."""
    found = []
    for key in keys or stated():
        one = stated()[key]
        low, high = (_limit_with(valuation, key, at, terms) for at in (one.low, one.high))
        found.append(Driver(key, low, high))
    return sorted(found, key=lambda one: -one.swing)


def _limit_with(valuation: Valuation, key: str, value: float, terms: Terms) -> float:
    lot = valuation.lot
    lot = replace(lot, assumptions=with_figure(lot.assumptions, key, value))
    plan = valuation.looked.plan
    if key in DRAWN:
        other = value_lot(lot, seed=plan.seed, draws=plan.count)
    else:
        other = revalue(lot, valuation.looked)
    return limit_of(other, terms).exact
