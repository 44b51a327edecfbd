"""Which way each machine goes, chosen on what an inspection shows, and what comes of it.

The choice is made by *expected* price and time; only then are the price and the time that the draw
holds looked at. Machines are taken in the lot's order: like machines that were sold or stripped
before lower what the next one brings, and bench hours promised before make it wait. Taking them in
one order, each to its own advantage, is no optimum over the whole lot: it errs downward.
"""

from collections.abc import Mapping, Set
from dataclasses import dataclass, field

import numpy as np

from shop.lots.domain.assumptions import Assumptions
from shop.lots.domain.inputs import FATES, Goods, Lot, Machine
from shop.lots.domain.looking import NO_ROUTE, Looked, Plan
from shop.lots.domain.normal import mean_one, quantiles16
from shop.lots.domain.threads import side_by_side

AT_ONCE = 10_000  # draws that one thread settles together
NEVER = np.float32(-np.inf)


@dataclass(frozen=True)
class Settled:
    """What came of a lot: ``back`` and ``costs`` in money, one a draw, machines and goods only.

    By machine key: ``worth`` is the mean of back less costs, ``chosen`` the share of the draws in
    which it went each way, in the order of ``FATES``.
    """

    back: np.ndarray
    costs: np.ndarray
    worth: dict[str, float]
    chosen: dict[str, tuple[float, ...]]


@dataclass
class _Seen:
    """What is known of one machine before its fate is chosen, for a range of draws."""

    bill: np.ndarray  # parts and bench, money
    hours: np.ndarray
    spare: np.ndarray
    blocked: np.ndarray
    unsafe: np.ndarray


@dataclass
class _Taken:
    """How many like machines were sold and stripped before, and bench hours promised, by draw."""

    size: int
    sold: dict[str, np.ndarray] = field(default_factory=dict)
    stripped: dict[str, np.ndarray] = field(default_factory=dict)
    hours: np.ndarray = None

    def __post_init__(self):
        self.hours = np.zeros(self.size, np.float32)

    def of(self, counts: dict[str, np.ndarray], model: str) -> np.ndarray:
        return counts.setdefault(model, np.zeros(self.size, np.intp))


@dataclass(frozen=True)
class _Ways:
    """What each way brings back (money, ``FATES`` by draws), and how long one that is sold stands
    until a buyer comes and, before that, waits for the bench (months by draw)."""

    back: np.ndarray
    months: np.ndarray
    wait: np.ndarray

    def by_luck(self, price: np.ndarray, months: np.ndarray) -> "_Ways":
        """As it turns out: what is sold brings ``price`` times, and stands ``months`` times, what
        was expected."""
        back = self.back.copy()
        back[:2] *= price
        return _Ways(back, self.months * months, self.wait)


def settle(
    lot: Lot,
    looked: Looked,
    *,
    without: Set[str] = frozenset(),
    foresight: bool = False,
    levels: Mapping[str, np.ndarray] | None = None,
) -> Settled:
    """Choose and realise every machine's fate, but for the keys ``without``.

    ``looked`` may have been made under other prices, rates and factors than the lot's assumptions,
    not under other odds. ``foresight`` chooses by the realised prices: what nobody can do.
    ``levels`` are realised levels of prices by model key, as times of what is expected, where they
    are not to be drawn: one a draw.
    """
    plan = looked.plan
    markets = levels or _levels(lot, plan)
    rows = [at for at, one in enumerate(lot.machines) if one.key not in without]
    starts = range(0, plan.count, AT_ONCE)
    parts = [slice(start, min(start + AT_ONCE, plan.count)) for start in starts]
    done = side_by_side(lambda at: _Range(lot, looked, markets, foresight, at).settle(rows), parts)
    back, costs = (np.concatenate([one[at] for one in done]) for at in (0, 1))
    worth, chosen = (sum(one[at] for one in done) / plan.count for at in (2, 3))
    for goods in lot.goods:
        if goods.key not in without:
            came, cost = _sell_goods(goods, lot.assumptions, plan)
            back, costs = back + came, costs + cost
    keys = [lot.machines[row].key for row in rows]
    return Settled(
        back,
        costs,
        dict(zip(keys, worth, strict=True)),
        dict(zip(keys, map(tuple, chosen), strict=True)),
    )


def _levels(lot: Lot, plan: Plan) -> dict[str, np.ndarray]:
    """The realised level of prices of each model, market and all, with mean one; by draw."""
    market = mean_one(lot.assumptions.market_sd, plan.normal("market"))
    models = {one.model.key: one.model.market.price.level_sd for one in lot.machines}
    return {key: market * mean_one(sd, plan.normal("level", key)) for key, sd in models.items()}


def _sell_goods(goods: Goods, assumptions: Assumptions, plan: Plan):
    """What goods bring and cost, by draw. They are always sold, all of them."""
    market = mean_one(assumptions.market_sd, plan.normal("market"))
    level = market * mean_one(goods.price.level_sd, plan.normal("goods", goods.key))
    came = (goods.quantity * goods.price.mean * assumptions.price_factor * level)[: plan.count]
    months = goods.months * assumptions.months_factor
    return came.astype(float), months * (goods.storage + assumptions.money * came)


class _Range:
    """The settling of one range of draws."""

    def __init__(self, lot: Lot, looked: Looked, levels, foresight: bool, at: slice):
        self.lot, self.looked, self.at, self.foresight = lot, looked, at, foresight
        self.levels = levels
        self.base = lot.assumptions
        self.size = at.stop - at.start
        self.taken = _Taken(self.size)

    def settle(self, rows: list[int]):
        """Back, costs, and for each row the sum of its worth and how often it went each way."""
        back, costs = np.zeros(self.size), np.zeros(self.size)
        worth, chosen = np.zeros(len(rows)), np.zeros((len(rows), len(FATES)))
        for place, row in enumerate(rows):
            machine = self.lot.machines[row]
            seen = self._see(row)
            hoped = self._ways(machine, seen)
            real = hoped.by_luck(*self._luck(machine, row))
            fate = _best(self._nets(machine, seen, real if self.foresight else hoped))
            came, cost = self._come(machine, seen, real, fate)
            back += came
            costs += cost
            worth[place] = np.sum(came, dtype=float) - np.sum(cost, dtype=float)
            chosen[place] = np.bincount(fate, minlength=len(FATES))
            self._take(machine, fate, seen)
        return back, costs, worth, chosen

    def _see(self, row: int) -> _Seen:
        looked, at, base = self.looked, self.at, self.base
        parts = looked.parts[row, at]
        hours = looked.minutes[row, at] * np.float32(base.minutes_factor / 60)
        bill = parts * np.float32(base.parts_factor) + hours * np.float32(base.bench_rate)
        blocked = parts >= NO_ROUTE
        return _Seen(bill, hours, looked.spare[row, at], blocked, looked.unsafe[row, at])

    def _luck(self, machine: Machine, row: int) -> tuple[np.ndarray, np.ndarray]:
        """Factors with mean one of the price and of the months."""
        market, at = machine.model.market, self.at
        own = mean_one(market.price.own_sd, quantiles16().take(self.looked.price[row, at]))
        months = mean_one(market.months_sd, quantiles16().take(self.looked.months[row, at]))
        return self.levels[machine.model.key][self.at] * own, months

    def _ways(self, machine: Machine, seen: _Seen) -> _Ways:
        """As expected. One that may not be sold brings nothing by the first two ways."""
        base, market, key = self.base, machine.model.market, machine.model.key
        back = np.zeros((len(FATES), self.size), np.float32)
        stripped = self.taken.of(self.taken.stripped, key)
        np.multiply(seen.spare, _powers(base.donor_falls, stripped), out=back[2])
        back[3] = machine.model.scrap
        if not machine.may_sell:
            return _Ways(back, np.float32(0), np.float32(0))
        sold = self.taken.of(self.taken.sold, key)
        price = _powers(market.falls, sold) * np.float32(market.price.mean * base.price_factor)
        as_is = price * np.float32(base.as_is_share) - seen.bill * np.float32(base.as_is_takes)
        back[0], back[1] = price, np.maximum(as_is, 0)
        months = _rising(market.slows, sold) * np.float32(market.months * base.months_factor)
        wait = (self.taken.hours + seen.hours) * np.float32(1 / base.bench_hours)
        return _Ways(back, months, wait)

    def _nets(self, machine: Machine, seen: _Seen, ways: _Ways) -> np.ndarray:
        """Back less costs by each way, ``NEVER`` where it is not open: ``FATES`` by draws."""
        base = self.base
        nets = ways.back - self._fixed(machine)[:, None]
        if not machine.may_sell:
            nets[:2] = NEVER
            return nets
        a_month = base.storage + base.money * ways.back[:2]
        nets[0] -= (ways.months + ways.wait) * a_month[0] + seen.bill
        nets[1] -= ways.months * a_month[1]
        np.putmask(nets[0], seen.blocked | (ways.wait > base.bench_months), NEVER)
        np.putmask(nets[1], seen.blocked | seen.unsafe, NEVER)
        return nets

    def _come(self, machine: Machine, seen: _Seen, ways: _Ways, fate: np.ndarray):
        """What comes back and what it costs by the way that was chosen, by draw."""
        base, repaired, sold = self.base, fate == 0, fate < 2
        came = ways.back.ravel().take(fate * self.size + np.arange(self.size))
        stands = ways.months * sold + ways.wait * repaired
        costs = stands * (base.storage + base.money * came) + seen.bill * repaired
        return came, costs + self._fixed(machine).take(fate)

    def _fixed(self, machine: Machine) -> np.ndarray:
        """What each way costs whatever is found: taking a donor apart, getting rid of the rest."""
        base, model = self.base, machine.model
        strip = model.strip_minutes * base.minutes_factor / 60 * base.bench_rate
        return np.array([0, 0, strip, model.disposal], np.float32)

    def _take(self, machine: Machine, fate: np.ndarray, seen: _Seen) -> None:
        taken, key = self.taken, machine.model.key
        if machine.may_sell:
            taken.of(taken.sold, key)[...] += fate < 2
            taken.hours += seen.hours * (fate == 0)
        taken.of(taken.stripped, key)[...] += fate == 2


def _best(nets: np.ndarray) -> np.ndarray:
    """The row of the greatest value in each column, the first of equals: how many rows in a row,
    from the first, fall short of it."""
    most, fate = nets.max(axis=0), np.zeros(nets.shape[1], np.intp)
    short = np.ones(nets.shape[1], bool)
    for row in nets[:-1]:
        short &= row < most
        fate += short
    return fate


def _powers(falls: float, count: np.ndarray) -> np.ndarray:
    """``falls ** count`` for whole counts, float32."""
    top = int(count.max(initial=0)) + 1
    return np.take((falls ** np.arange(top)).astype(np.float32), count, mode="clip")


def _rising(slows: float, count: np.ndarray) -> np.ndarray:
    """``1 + slows * count``, float32."""
    top = int(count.max(initial=0)) + 1
    return np.take((1 + slows * np.arange(top)).astype(np.float32), count, mode="clip")
