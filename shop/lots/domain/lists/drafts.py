"""One row of a seller's list as a line: what it offers, how much of it, and what is doubtful."""

import re
from dataclasses import dataclass, replace
from decimal import Decimal

from shop.lots.domain.lists import columns as roles
from shop.lots.domain.lists import figures
from shop.lots.domain.lists.columns import Layout, Row
from shop.lots.domain.lists.figures import Amount
from shop.lots.domain.lists.matching import Catalogue, Match, is_maker
from shop.lots.domain.lists.runs import of_count, spoken_run
from shop.lots.domain.lists.source import GOODS, MACHINE, Doubt, Draft
from shop.lots.domain.lists.use import is_unread_year, use_of
from shop.lots.domain.lists.words import (
    LB,
    PIECE,
    SET,
    SQFT,
    goods,
    goods_in,
    is_one_of,
    kind_in,
    kind_words,
    measure_of,
    plain,
)  # fmt: skip
from units.sheets.domain.table import Cell
from units.sheets.domain.values import ValueRefusedError, to_money

TAKEN = 0.70  # a text that matches a model so well names a machine
LONGEST = {"text": 200, "number": 60, "maker": 80, "note": 300}
RANGE = re.compile(r"\d+\s*(?:-|–|to)\s*\d+", re.I)


@dataclass(frozen=True)
class Around:
    """What stands around a row: the section's maker, kind and goods, and the row's part.

    ``merged`` are the columns of this row whose cell is one with those of other rows; ``mixed``
    says that the column of hours holds years as well.
    """

    layout: Layout
    maker: str = ""
    kind: str = ""
    goods: str = ""
    merged: frozenset[int] = frozenset()
    mixed: bool = False


@dataclass(frozen=True)
class Named:
    """The naming cells of a row, read together."""

    text: str
    cell: Cell
    match: Match
    amount: Amount | None
    kind: str
    goods: str
    known: bool  # whether the row itself says what it is

    @property
    def is_machine(self) -> bool:
        best = self.match.best
        if best and best.confidence >= TAKEN:
            return True
        return not self.goods

    @property
    def says_nothing(self) -> bool:
        return not (self.kind or self.goods or self.match.candidates)


def name_of(row: Row, around: Around, catalogue: Catalogue) -> Named | None:
    """What the naming cells of a row say, None where they say nothing."""
    cells = [row[column] for column in around.layout.of(*roles.NAMING) if column in row]
    cells = [cell for cell in cells if not is_one_of(cell.text, "nothing")]
    if not any(any(c.isalnum() for c in cell.text) for cell in cells):
        return None
    text = " ".join(cell.text for cell in cells)
    maker_cell = around.layout.cell(row, roles.MAKER)
    kind_cell = around.layout.cell(row, roles.KIND)
    maker = maker_cell.text if maker_cell else ""
    kind = kind_in(kind_cell.text) if kind_cell else ""
    match, amount = _apart(text, maker, kind, catalogue)
    if not match.is_sure:  # what the section says helps, but proves no number wrong
        match, amount = _apart(text, maker or around.maker, kind or around.kind, catalogue)
    own_kind, own_goods = _sorts(text)
    main = next((c for c in cells if catalogue.match(c.text).best), cells[0])
    return Named(
        text, main, match, amount, own_kind or kind or ("" if own_goods else around.kind),
        own_goods or ("" if own_kind or kind else around.goods),
        bool(own_kind or own_goods or kind or (match.best and match.best.confidence >= TAKEN)),
    )  # fmt: skip


def _apart(text: str, maker: str, kind: str, catalogue: Catalogue) -> tuple[Match, Amount | None]:
    """The model and the amount that a name holds. A figure that is part of the model's number,
    which matches worse without it, is no amount."""
    amount, bare = figures.amount_in(text)
    match = catalogue.match(text, maker, kind)
    if not amount:
        return match, None
    without = catalogue.match(bare, maker, kind)
    whole, rest = (one.best.confidence if one.best else 0.0 for one in (match, without))
    return (without, amount) if rest >= whole else (match, None)


def _sorts(text: str) -> tuple[str, str]:
    """The kind of machine and the sort of goods of a text: one of them, the noun comes last."""
    kind, sort = kind_in(text), goods_in(text)
    if not (kind and sort):
        return kind, sort
    words = plain(text).split()
    for start in range(len(words)):
        rest = " ".join(words[start:])
        if not kind_in(rest):
            return "", goods_in(rest) or sort
        if not goods_in(rest):
            return kind, ""
    return kind, ""


def draft_of(row: Row, named: Named, around: Around) -> tuple[Draft, tuple[Doubt, ...]]:
    """The line of a row, and what is to be asked about it."""
    base = Draft(
        sort=MACHINE if named.is_machine else GOODS,
        text=named.text[: LONGEST["text"]],
        ref=named.cell.ref,
        note=_note(row, around.layout),
        asked=_asked(row, around.layout),
    )
    draft, doubts = (
        _machine(base, row, named, around) if named.is_machine else _goods(base, row, named, around)
    )
    sure = not doubts and (named.match.is_sure if named.is_machine else named.known)
    return replace(draft, sure=sure), tuple(doubts)


def _machine(draft: Draft, row: Row, named: Named, around: Around):
    best = named.match.best
    doubts = []
    if named.says_nothing or (len(row) == 1 and not named.known and not named.match.candidates):
        doubts.append(Doubt("what", named.cell.ref, {"text": named.text[:60]}))
    serial_cell = around.layout.cell(row, roles.SERIAL)
    serials = figures.serials_of(serial_cell.value) if serial_cell else ()
    serials = tuple(one for one in serials if any(c.isdigit() for c in one))
    count, wrong = _count(row, named, around, serials)
    serials = of_count(serials, count)
    hours, year, unclear = use_of(row, around.layout, around.mixed)
    doubts += wrong + unclear
    kind = best.model.kind if best and best.confidence >= TAKEN else named.kind
    maker = named.match.maker or around.maker
    return replace(
        draft,
        maker=maker[: LONGEST["maker"]],
        number=number_in(named, maker)[: LONGEST["number"]],
        kind=kind,
        candidates=named.match.candidates,
        count=count,
        serials=serials,
        hours=hours,
        year=year,
    ), doubts


def _count(row: Row, named: Named, around: Around, serials) -> tuple[int, list[Doubt]]:
    cell = around.layout.cell(row, roles.COUNT)
    if cell and is_one_of(cell.text, "nothing"):
        cell = None
    amount = figures.amount_of(cell.value) if cell else named.amount
    ref = cell.ref if cell else named.cell.ref
    if cell and cell.column in around.merged:
        return len(serials) or 1, [Doubt("merged-count", ref, {"text": cell.text})]
    if (amount is None and cell) or (amount and amount.measure not in (PIECE, SET)):
        text = cell.text if cell else named.text
        return len(serials) or 1, [Doubt("count", ref, {"text": text[:60]})]
    run = spoken_run(serials)
    if run and amount is None:
        said = {"text": serials[0][:60], "serials": str(len(run))}
        return len(run), [Doubt("run", named.cell.ref, said)]
    count = int(amount.number) if amount else len(serials) or 1
    return count, _miscounted(count, serials, ref)


def _miscounted(count: int, serials: tuple[str, ...], ref: str) -> list[Doubt]:
    """Whether the serials, runs of them written out, are as many as are counted."""
    if not serials or len(of_count(serials, count)) == count:
        return []
    found = str(len(spoken_run(serials) or serials))
    return [Doubt("serials", ref, {"count": str(count), "serials": found})]


def _goods(draft: Draft, row: Row, named: Named, around: Around):
    amount, cell = _amount(row, named, around)
    doubts = _goods_doubts(amount, cell, named)
    amount = amount or Amount(Decimal(1), PIECE)
    return replace(
        draft,
        goods=named.goods,
        measure=amount.measure,
        quantity=amount.number,
        pieces=amount.pieces or (int(amount.number) if amount.measure == PIECE else None),
    ), doubts


def _goods_doubts(amount: Amount | None, cell: Cell | None, named: Named) -> list[Doubt]:
    by_mass = goods()[named.goods].measure == LB
    if amount is None and cell:
        return [Doubt("count", cell.ref, {"text": cell.text[:60]})]
    if by_mass and (amount is None or amount.measure == PIECE):
        return [Doubt("mass", named.cell.ref, {"text": named.text[:60]})]
    if amount is None and goods()[named.goods].measure != PIECE:
        return [Doubt("amount", named.cell.ref)]
    if amount and amount.measure in (PIECE, SET) and goods()[named.goods].measure == SQFT:
        return [Doubt("area", named.cell.ref, {"text": named.text[:60]})]
    return []


def _amount(row: Row, named: Named, around: Around) -> tuple[Amount | None, Cell | None]:
    """How much, and the cell of counts. ``45 lb plates`` counted 20 are 900 lb in 20 pieces."""
    cell = around.layout.cell(row, roles.COUNT)
    if cell and is_one_of(cell.text, "nothing"):
        cell = None
    amount = figures.amount_of(cell.value) if cell else named.amount
    if cell and amount is None:
        return None, cell
    measure_cell = around.layout.cell(row, roles.MEASURE)
    measure = measure_of(measure_cell.text) if measure_cell and amount else ""
    if measure and measure != PIECE:
        return figures.amount_of(f"{amount.number} {measure}"), cell
    if amount is None or amount.measure != PIECE:
        return amount or figures.mass_in(named.text), cell
    if RANGE.search(named.text):
        return Amount(amount.number, SET), cell
    each = figures.mass_in(named.text)
    if each and goods()[named.goods].measure == LB:
        return Amount(amount.number * each.number, each.measure, int(amount.number)), cell
    return amount, cell


def _note(row: Row, layout: Layout) -> str:
    """The condition in the seller's words: notes, what a column of figures says in words, and what
    stands in columns that nobody understood."""
    unread = [column for column, one in layout.columns.items() if one.is_unread]
    cells = [row[column] for column in [*layout.of(roles.NOTE), *unread] if column in row]
    for role in (roles.HOURS, roles.YEAR, roles.SERIAL, roles.PRICE):
        cell = layout.cell(row, role)
        if cell and (not any(c.isdigit() for c in cell.text) or is_unread_year(cell, role)):
            cells.append(cell)
    said = [cell.text for cell in cells if not is_one_of(cell.text, "nothing")]
    return "; ".join(said)[: LONGEST["note"]]


def _asked(row: Row, layout: Layout) -> Decimal | None:
    cell = layout.cell(row, roles.PRICE)
    try:
        amount = to_money(cell.value) if cell else None
    except ValueRefusedError:
        return None
    return amount if amount is not None and 0 <= amount < 1_000_000 else None


def number_in(named: Named, maker: str) -> str:
    """The model number as it was typed: the words about maker, kind and count left out."""
    bare = figures.amount_in(named.text)[1] if named.amount else named.text
    unwanted = set(plain(maker).split()) | kind_words(kind_in(bare))
    words = re.sub(r"[()\[\],;]", " ", bare).split()
    left = [one for one in words if plain(one) not in unwanted and not is_maker(one, maker)]
    return " ".join(left).strip(" -–:#*")
