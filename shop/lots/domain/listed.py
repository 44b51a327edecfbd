"""Machines and goods of a list, as they go into a valuation."""

import math
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from functools import cache

from shop.lots.domain.assumptions import table
from shop.lots.domain.haul import Load
from shop.lots.domain.inputs import EMPTY, Goods, Machine, Model, Price
from shop.lots.domain.lists.drafts import TAKEN
from shop.lots.domain.lists.source import GOODS, Draft
from shop.lots.domain.lists.words import KG, LB, PAIR, SQFT, SQM, Sort, numbers
from shop.lots.domain.lists.words import goods as sorts

KG_IN_LB = Decimal("0.45359237")  # exact by definition: NIST SP 811 (2008), appendix B.8
SQM_IN_SQFT = Decimal("0.09290304")  # exact by definition, the same
COUNTED = re.compile(
    r"(?P<named>(?:\b(?:unit|machine|number|no\.?)|#)\s*)?\b(?P<count>\w+)"
    r"(?: of \w+)?(?: (?:is|are|ones?|units?|machines?))*\s*$"
)


@dataclass(frozen=True)
class Wanted:
    """What has to be known to value a machine: its model or its kind, and the band of its hours."""

    model: int | None
    kind: str
    hours: int | None = None
    made_in: int | None = None


@dataclass(frozen=True)
class MachineLine:
    """Machines of one line of a list, the last ``dead`` of them taken not to run; ``found`` by
    component: it has to be replaced."""

    key: str
    name: str
    wanted: Wanted
    count: int = 1
    dead: int = 0
    by_odds: bool = False
    found: Mapping[str, bool] = field(default_factory=lambda: EMPTY)


@dataclass(frozen=True)
class GoodsLine:
    """Goods of one line: so much of a measure of one sort, in so many pieces where that is told."""

    key: str
    name: str
    sort: str
    measure: str
    quantity: Decimal
    pieces: int | None = None


def line_of(draft: Draft, key: str) -> MachineLine | GoodsLine | None:
    """A line of a list as it reads, before anybody confirmed it; None where nobody can tell what
    it is. A model is taken that matches as well as a name has to."""
    if draft.sort == GOODS:
        return _goods_line(draft, key)
    best = draft.candidates[0] if draft.candidates else None
    model = best.model if best and best.confidence >= TAKEN else None
    kind = model.kind if model else draft.kind
    if not kind or draft.count < 1:
        return None
    wanted = Wanted(model.pk if model else None, kind, draft.hours, draft.year)
    return MachineLine(key, draft.text, wanted, draft.count, said_dead(draft.note, draft.count))


def _goods_line(draft: Draft, key: str) -> GoodsLine | None:
    if draft.goods not in sorts() or not draft.quantity:
        return None
    return GoodsLine(key, draft.text, draft.goods, draft.measure, draft.quantity, draft.pieces)


def machines_of(lines: Iterable[MachineLine], models: Mapping[Wanted, Model]) -> list[Machine]:
    """One machine for each piece that a line counts, those of a dear model first: each takes bench
    hours from those behind it."""
    lines = sorted(lines, key=lambda one: -models[one.wanted].market.price.mean)
    return [
        Machine(
            f"{line.key}-{piece}",
            models[line.wanted],
            line.found,
            piece <= line.count - line.dead,
            line.by_odds,
        )
        for line in lines
        for piece in range(1, line.count + 1)
    ]


def goods_of(line: GoodsLine) -> Goods:
    """What a line of goods is valued as. Raises KeyError for a sort that nobody stated."""
    sort, figures = sorts()[line.sort], table()["goods"]
    quantity = in_measure(line, sort)
    mass = mass_of(line, sort)
    pieces = _loads(line, mass, figures["crate"])
    return Goods(
        line.key,
        float(quantity),
        Price(float(sort.rate), figures["level_sd"]),
        months=figures["months"],
        storage=figures["storage"] * pieces,
        pieces=pieces,
        load=Load(mass / pieces, figures["floor"]),
    )


def _loads(line: GoodsLine, mass: float, crate: float) -> int:
    """In how many loads goods are carried: pieces lighter than a full crate go in crates."""
    if line.pieces and mass / line.pieces >= crate:
        return line.pieces
    return max(1, math.ceil(mass / crate))


def in_measure(line: GoodsLine, sort: Sort) -> Decimal:
    """How much of the measure in which the sort is priced; counted pieces by their usual mass."""
    if line.measure == sort.measure:
        return line.quantity
    if sort.measure in (LB, KG):
        kilograms = Decimal(str(mass_of(line, sort)))
        return kilograms / KG_IN_LB if sort.measure == LB else kilograms
    if (line.measure, sort.measure) == (SQM, SQFT):
        return line.quantity / SQM_IN_SQFT
    if (line.measure, sort.measure) == (SQFT, SQM):
        return line.quantity * SQM_IN_SQFT
    if line.measure in (LB, KG):
        return Decimal(str(mass_of(line, sort))) / sort.kilograms
    return line.quantity * (2 if line.measure == PAIR else 1)


def mass_of(line: GoodsLine, sort: Sort) -> float:
    """Kilograms of all of it."""
    if line.measure == KG:
        return float(line.quantity)
    if line.measure == LB:
        return float(line.quantity * KG_IN_LB)
    if line.measure == SQM:
        return float(line.quantity / SQM_IN_SQFT * sort.kilograms)
    return float(line.quantity * sort.kilograms * (2 if line.measure == PAIR else 1))


def said_dead(note: str, count: int) -> int:
    """How many of so many machines a seller's words say that they do not run, or that nobody tried:
    as many as the words count, all where they count none."""
    said = " ".join(note.casefold().replace("’", "'").split())
    counted = [_counted(said[: found.start()]) or count for found in _not_run().finditer(said)]
    return min(count, sum(counted))


@cache
def _not_run() -> re.Pattern[str]:
    words = sorted(table()["condition"]["not_run"], key=len, reverse=True)
    return re.compile("|".join(map(re.escape, words)))


def _counted(before: str) -> int | None:
    """The number at the end of what stands before the words: "2", "one of them is"; "unit 3" and
    "#3" name one."""
    match = COUNTED.search(before)
    if match is None:
        return None
    count = match["count"]
    found = int(count) if count.isdecimal() else numbers().get(count)
    return 1 if found and match["named"] else found
