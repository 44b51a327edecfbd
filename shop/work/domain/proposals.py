"""From what the findings mean to the lines of an estimate, each with its reason.

Source: common practice, no published source. Everything comes in: verdicts, the parts that fit
with their costs, the flat rates, the price rules of the day.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Protocol

from shop.till.domain.pricing import PriceRules, labour_price, part_price

PART, LABOUR = "part", "labour"
REPLACE, SERVICE, SUSPECT = "replace", "service", "suspect"
# The act of a flat rate for each verdict that asks for work.
ACTS = {REPLACE: "replace", SERVICE: "service", SUSPECT: "diagnose"}


class Verdict(Protocol):
    """What a proposal needs of a verdict."""

    component: str
    act: str
    reason: str
    pair: str


@dataclass(frozen=True)
class Suspicion:
    """A finding that no rule explains: its cause has to be found."""

    component: str
    reason: str
    act: str = SUSPECT
    pair: str = ""


@dataclass(frozen=True)
class FittingPart:
    """A part that fits the model; ``unit_cost`` is None where nobody knows what it costs."""

    part: int
    text: str
    quantity: Decimal
    unit_cost: Decimal | None = None


@dataclass(frozen=True)
class Proposal:
    """One line to propose. ``wording`` is how to describe it: ``part``, ``part-to-find`` or the
    act of a flat rate. A price of 0 has still to be found."""

    line_class: str
    wording: str
    component: str
    reason: str
    unit_price: Decimal
    quantity: Decimal = Decimal(1)
    minutes: int | None = None
    part: FittingPart | None = None


def best_fit(fits: Sequence[FittingPart]) -> FittingPart | None:
    """The cheapest part whose cost is known, else the first that fits, else None."""
    priced = [fit for fit in fits if fit.unit_cost is not None]
    if priced:
        return min(priced, key=lambda fit: fit.unit_cost * fit.quantity)
    return fits[0] if fits else None


def propose(
    verdicts: Iterable[Verdict],
    fits: Mapping[str, Sequence[FittingPart]],
    minutes: Mapping[tuple[str, str], int],
    rules: PriceRules,
) -> list[Proposal]:
    """The lines for a machine's verdicts: the part of each replacement, then its labour.

    There is one verdict a component. ``fits`` is by component, ``minutes`` by (act, component).
    A pair comes out whole: each of its components has a verdict.
    """
    proposals = []
    for verdict in verdicts:
        if verdict.act == REPLACE:
            proposals.append(_part(verdict, fits.get(verdict.component, ()), rules))
        if verdict.act in ACTS:
            proposals.append(_labour(verdict, minutes, rules))
    return proposals


def _part(verdict: Verdict, fits: Sequence[FittingPart], rules: PriceRules) -> Proposal:
    fit = best_fit(fits)
    known = fit is not None and fit.unit_cost is not None
    return Proposal(
        line_class=PART,
        wording="part" if fit else "part-to-find",
        component=verdict.component,
        reason=verdict.reason,
        unit_price=part_price(fit.unit_cost, rules) if known else Decimal(0),
        quantity=fit.quantity if fit else Decimal(1),
        part=fit,
    )


def _labour(
    verdict: Verdict, minutes: Mapping[tuple[str, str], int], rules: PriceRules
) -> Proposal:
    act = ACTS[verdict.act]
    taken = minutes.get((act, verdict.component), 0)
    return Proposal(
        line_class=LABOUR,
        wording=act,
        component=verdict.component,
        reason=verdict.reason,
        unit_price=labour_price(taken, rules),
        minutes=taken,
    )


def split_pairs(
    verdicts: Iterable[Verdict], components: Iterable[str], with_parts: Iterable[str]
) -> list[list[str]]:
    """Components to be dealt with together of which an estimate has only some.

    ``components`` are those that its lines name, ``with_parts`` those for which a line brings a
    part: what is to be replaced is there only with its part, its labour alone does not count.
    """
    pairs: dict[str, list[Verdict]] = {}
    for verdict in verdicts:
        if verdict.act in ACTS and verdict.pair:
            pairs.setdefault(verdict.pair, []).append(verdict)
    named, parts = set(components), set(with_parts)
    return [_names(pair) for pair in pairs.values() if _is_split(pair, named, parts)]


def _names(pair: list[Verdict]) -> list[str]:
    return [verdict.component for verdict in pair]


def _is_split(pair: list[Verdict], named: set[str], parts: set[str]) -> bool:
    if not named & set(_names(pair)):
        return False  # left out as a whole
    # Where nobody brings any part of the pair, its owner may have the parts already.
    bringing = parts if parts & set(_names(pair)) else named
    needed = [(one, bringing if one.act == "replace" else named) for one in pair]
    return any(one.component not in there for one, there in needed)
