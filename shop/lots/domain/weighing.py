"""What the most to pay hangs on: each machine, and each assumption."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from shop.lots.domain.assumptions import stated, with_figure
from shop.lots.domain.inputs import Lot, Machine
from shop.lots.domain.prices import Terms
from shop.lots.domain.streams import BLOCK
from shop.lots.domain.valuing import Valuation, limit_of, revalue, value_lot

# What changes the state in which machines are found, so that they have to be drawn again.
DRAWN = {"lot_weight", "machine_weight", "odds_shift"}
TRIED, AT_LEAST = 10_000, 12  # sorts left out one after the other, times the machines of a lot
DRIVEN = 2_000_000  # draws times machines at most for each of the assumptions


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


def refusals(valuation: Valuation, terms: Terms, most: int | None = None) -> list[Refusal]:
    """What leaving out each machine and each line of goods does, most to be gained first.

    The draws are the same and the haul is reckoned anew. Of machines about which the same is known
    the last one is left out. Changes are of the exact limit, also where that is below nothing. Of
    more than ``most`` sorts those are tried that seem to bring least: each takes the longer the
    more machines there are.
    """
    if most is None:
        most = max(AT_LEAST, TRIED // max(1, len(valuation.lot.machines)))
    base = limit_of(valuation, terms).exact
    found = []
    for keys in _least_first(valuation)[:most]:
        left = revalue(valuation.lot, valuation.looked, without={keys[-1]})
        change = limit_of(left, terms).exact - base
        found.append(Refusal(keys[-1], tuple(keys), change))
    return sorted(found, key=lambda one: -one.change)


def sorts_of(lot: Lot) -> list[list[str]]:
    """Keys of what could be refused: machines about which the same is known together, and goods."""
    return [*_alike(lot.machines), *([one.key] for one in lot.goods)]


def _least_first(valuation: Valuation) -> list[list[str]]:
    """The sorts by what one of them brings on average, less its share by mass of the haul."""
    lot, worth = valuation.lot, valuation.settled.worth
    loads = {one.key: one.model.load.mass for one in lot.machines}
    loads |= {one.key: one.load.mass * one.pieces for one in lot.goods}
    brings = {one.key: one.price.mean * one.quantity for one in lot.goods}
    brings |= {key: float(value) for key, value in worth.items()}
    rate = valuation.haul.cost / (sum(loads.values()) or 1.0)
    return sorted(sorts_of(lot), key=lambda keys: brings[keys[-1]] - rate * loads[keys[-1]])


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
    """Each stated assumption at its bounds with the others as they are, greatest swing first.

    What each does to the limit is reckoned on ``driver_draws``, the same for all.
    """
    found, off = [], 0.0
    plan, fewer = valuation.looked.plan, driver_draws(valuation)
    if fewer < plan.count:
        base = limit_of(valuation, terms).exact
        valuation = value_lot(valuation.lot, seed=plan.seed, draws=fewer)
        off = base - limit_of(valuation, terms).exact
    for key in keys or stated():
        one = stated()[key]
        low, high = (_limit_with(valuation, key, at, terms) + off for at in (one.low, one.high))
        found.append(Driver(key, low, high))
    return sorted(found, key=lambda one: -one.swing)


def driver_draws(valuation: Valuation) -> int:
    """On how many draws the drivers are reckoned: of a lot of many machines not on all."""
    most = max(BLOCK, DRIVEN // max(1, len(valuation.lot.machines)))
    return min(valuation.looked.plan.count, most)


def _limit_with(valuation: Valuation, key: str, value: float, terms: Terms) -> float:
    lot = valuation.lot
    lot = replace(lot, assumptions=with_figure(lot.assumptions, key, value))
    plan = valuation.looked.plan
    if key in DRAWN:
        other = value_lot(lot, seed=plan.seed, draws=plan.count)
    else:
        other = revalue(lot, valuation.looked)
    return limit_of(other, terms).exact
