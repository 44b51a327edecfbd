"""What an inspection after purchase would show of each machine, in every draw.

The latent value of a component is ``z = a lot + b machine + sqrt(1 - a^2 - b^2) rest``; it fails
where ``Phi(z)`` is below its odds. Given both factors that is a threshold for a 16-bit uniform.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import groupby

import numpy as np

from shop.lots.domain.inputs import Component, Lot, Machine, Model, Route
from shop.lots.domain.normal import RESOLUTION, SIXTEEN_BITS, STEPS, quantiles16, thresholds
from shop.lots.domain.odds import STRATA, latent_strata
from shop.lots.domain.streams import BLOCK, draw16, stream
from shop.lots.domain.threads import side_by_side

NO_ROUTE = np.float32(1e7)  # stands for the price of a part that cannot be had
FACTORS = 3  # rows of a machine's stream before its components: machine factor, price, months
AT_ONCE = 16  # machines of one model that one thread looks at together


@dataclass(frozen=True)
class Plan:
    """How many draws, from which seed, with which dependence and shift of the odds."""

    count: int
    seed: int
    dependence: tuple[tuple[float, float], ...]
    odds_shift: float = 0.0

    @classmethod
    def of(cls, lot: Lot, count: int, seed: int) -> "Plan":
        return cls(count, seed, lot.assumptions.dependence, lot.assumptions.odds_shift)

    @property
    def blocks(self) -> int:
        return -(-self.count // BLOCK)

    @property
    def padded(self) -> int:
        """Draws in whole blocks; what is too many is drawn and left out."""
        return self.blocks * BLOCK

    @cached_property
    def pair(self) -> np.ndarray:
        """Which of the pairs of ``dependence`` holds in every draw, intp, padded."""
        drawn = draw16(stream(self.seed, "dependence"), 1, self.padded)[0]
        return (drawn % np.uint16(len(self.dependence))).astype(np.intp)

    @cached_property
    def weights(self) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """Of every pair the weight of the lot, of the machine, and the steps of the table of
        thresholds to one standard deviation of the rest; float32."""
        a, b = np.array(self.dependence, np.float32).T
        return a, b, np.float32(RESOLUTION) / np.sqrt(1 - a * a - b * b)

    @cached_property
    def factors(self) -> tuple[np.ndarray, np.ndarray]:
        """In steps of that table the lot's factor in every draw, and what the machine's factor
        comes to for each standard deviation; float32, padded."""
        a, b, scale = (one.take(self.pair) for one in self.weights)
        return self.normal("lot") * a * scale, b * scale

    def normal(self, *names: str) -> np.ndarray:
        """Standard normal values by name, one a draw, float32, padded."""
        return quantiles16()[draw16(stream(self.seed, *names), 1, self.padded)[0]]

    def had(self, route: Route) -> np.ndarray:
        """In which draws a route is open, bool, padded; its chance to 16 bits."""
        if route.chance >= 1:
            return np.ones(self.padded, bool)
        drawn = draw16(stream(self.seed, "route", route.key), 1, self.padded)[0]
        return drawn < np.uint16(min(round(route.chance * SIXTEEN_BITS), SIXTEEN_BITS - 1))

    def steps(self, component: Component) -> np.ndarray:
        """The step of the table of thresholds at which a component stands with both factors at
        nothing, a draw of its odds each, intp, padded."""
        odds, scale = component.odds, self.weights[-1]
        values = latent_strata(odds.alpha, odds.beta) + np.float32(self.odds_shift)
        steps = np.rint(scale[:, None] * values).astype(np.intp) + STEPS
        drawn = draw16(stream(self.seed, "odds", odds.key), 1, self.padded)[0]
        return steps.take(self.pair * STRATA + (drawn & np.uint16(STRATA - 1)), mode="clip")

    def part_price(self, component: Component) -> np.ndarray:
        """What the cheapest open route costs, ``NO_ROUTE`` where none is open, float32, padded."""
        price = np.full(self.padded, NO_ROUTE)
        for route in component.routes:
            had_for = np.array([NO_ROUTE, route.cost], np.float32).take(self.had(route))
            np.minimum(price, had_for, out=price)
        return price


@dataclass(frozen=True)
class Looked:
    """What is to be seen, a row for each machine in the lot's order, a column for each draw.

    ``parts`` money (``NO_ROUTE`` or more: no repair), ``minutes`` bench time, ``spare`` money of
    the sound pieces, ``unsafe`` whether a safety component fails; ``price`` and ``months`` are
    16-bit uniforms, the machine's own luck, which nobody sees before it is sold.
    """

    plan: Plan
    parts: np.ndarray
    minutes: np.ndarray
    spare: np.ndarray
    unsafe: np.ndarray
    price: np.ndarray
    months: np.ndarray


def look(lot: Lot, count: int, seed: int) -> Looked:
    """Draw the state of every machine, ``count`` times. One seed always gives the same."""
    plan = Plan.of(lot, count, seed)
    shape = (len(lot.machines), plan.padded)
    kinds = (np.float32, np.float32, np.float32, bool, np.uint16, np.uint16)
    rows = [np.empty(shape, kind) for kind in kinds]
    looked = Looked(plan, *rows)
    thresholds(), quantiles16(), plan.factors  # made once, before the threads want them
    side_by_side(lambda chunk: _look_at(looked, *chunk), list(_chunks(lot.machines)))
    return looked


def _chunks(machines: Sequence[Machine]) -> Iterator[tuple[list[int], list[Machine]]]:
    """Places and machines of one model, a few at a time."""
    order = sorted(range(len(machines)), key=lambda at: id(machines[at].model))
    for _, group in groupby(order, key=lambda at: id(machines[at].model)):
        places = list(group)
        for start in range(0, len(places), AT_ONCE):
            some = places[start : start + AT_ONCE]
            yield some, [machines[at] for at in some]


def _look_at(looked: Looked, places: list[int], machines: list[Machine]) -> None:
    """Fill the rows of some machines of one model."""
    plan, model = looked.plan, machines[0].model
    prices = np.array([plan.part_price(one) for one in model.components], np.float32)
    prices = prices.reshape(len(model.components), plan.padded)
    weights, spare = _weights(model), np.float32(sum(one.spare for one in model.components))
    numbers = np.empty((len(machines), len(model.components), BLOCK), np.float32)
    for seen in states(plan, machines):
        at = seen.at
        np.copyto(numbers, seen.fails)
        sums = np.matmul(weights, numbers)
        looked.parts[places, at] = np.einsum("mcd,cd->md", numbers, prices[:, at])
        looked.minutes[places, at] = sums[:, 0]
        looked.spare[places, at] = spare - sums[:, 1]
        looked.unsafe[places, at] = sums[:, 2] > 0
        looked.price[places, at] = seen.price
        looked.months[places, at] = seen.months


def _weights(model: Model) -> np.ndarray:
    """What each failed component adds: minutes, lost spare, unsafe."""
    rows = [(one.minutes, one.spare, float(one.safety)) for one in model.components]
    return np.ascontiguousarray(np.array(rows, np.float32).reshape(-1, 3).T)


@dataclass(frozen=True)
class Seen:
    """Some machines in one block. ``fails`` (machines x components x BLOCK, bool) is overwritten by
    the next, as are ``price`` and ``months`` (machines x BLOCK)."""

    at: slice
    fails: np.ndarray
    price: np.ndarray
    months: np.ndarray


def states(plan: Plan, machines: Sequence[Machine]) -> Iterator[Seen]:
    """Every block of some machines of one model together: long steps, since two threads get into
    each other's way between short ones."""
    components = machines[0].model.components
    steps = np.array([plan.steps(one) for one in components], np.int32)
    steps = steps.reshape(len(components), plan.padded)
    lot, own = plan.factors
    streams = [stream(plan.seed, "machine", one.key) for one in machines]
    replaced = [_consequences(one) for one in machines]
    drawn = np.empty((len(machines), FACTORS + len(components), BLOCK), np.uint16)
    failing = _failing((len(machines), len(components), BLOCK))
    for block in range(plan.blocks):
        at = slice(block * BLOCK, (block + 1) * BLOCK)
        for row, generator in zip(drawn, streams, strict=True):
            row[:] = draw16(generator, len(row))
        machine = quantiles16().take(drawn[:, 0], mode="clip")
        factor = np.rint(lot[at] + own[at] * machine).astype(np.int32)
        fails = failing(steps[:, at], factor, drawn[:, FACTORS:])
        for apply, failed in zip(replaced, fails, strict=True):
            apply(failed)
        yield Seen(at, fails, drawn[:, 1], drawn[:, 2])


def _failing(shape: tuple[int, int, int]):
    """What fails in one block: a function of the components' steps, the machines' factors and the
    drawn numbers, all of that shape or broadcast to it."""
    latent = np.empty(shape, np.intp)
    limits = np.empty(shape, np.uint16)
    fails = np.empty(shape, bool)

    def told(steps: np.ndarray, factor: np.ndarray, drawn: np.ndarray) -> np.ndarray:
        np.subtract(steps, factor[:, None], out=latent)
        np.take(thresholds(), latent, mode="clip", out=limits)
        return np.less(drawn, limits, out=fails)

    return told


def _consequences(machine: Machine):
    """What findings and rules make of drawn components: a function that changes them in place."""
    place = {one.slug: at for at, one in enumerate(machine.model.components)}
    known = [(place[slug], fate) for slug, fate in machine.found.items() if slug in place]
    rules = [
        ([place[slug] for slug in rule.when], place[rule.then])
        for rule in machine.model.rules
        if {*rule.when, rule.then} <= place.keys()
    ]

    def apply(fails: np.ndarray) -> None:
        for at, fate in known:
            fails[at] = fate
        for when, then in rules:
            fails[then] |= np.logical_and.reduce([fails[at] for at in when])

    return apply
