"""A seller's whole list: every row of every sheet ends as a line, as no line, or as a question."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial

from shop.lots.domain.lists import columns as roles
from shop.lots.domain.lists import figures
from shop.lots.domain.lists.columns import Column, Layout, Row, heads, heads_by_place, propose
from shop.lots.domain.lists.drafts import Around, Named, draft_of, name_of
from shop.lots.domain.lists.matching import Catalogue
from shop.lots.domain.lists.source import (
    BLANK,
    CONTINUES,
    HEADING,
    LINE,
    NOT_LINE,
    NOTE,
    QUESTION,
    SECTION,
    TITLE,
    TOTAL,
    Doubt,
    Draft,
    Part,
    Reading,
    SourceRow,
)  # fmt: skip
from shop.lots.domain.lists.taking import samples_of, spread, with_more
from shop.lots.domain.lists.use import is_mixed
from shop.lots.domain.lists.words import goods_in, is_one_of, is_total, kind_in, names_section
from units.sheets.domain.table import Cell, Table

LONGEST_TEXT = 500
MANY_WORDS = 7  # more than these in one cell, and no machine, are a note
EVERY = 50
Chosen = Mapping[tuple[str, int], Mapping[int, str]]


def nobody(done: int, rows: int) -> None:
    """Hears how far the reading is, and does nothing."""


def read_list(
    tables: Sequence[Table],
    catalogue: Catalogue,
    chosen: Chosen | None = None,
    told: Callable[[int, int], None] = nobody,
) -> Reading:
    """What a list offers. ``chosen`` says what a person took columns for: for the sheet and the
    first row of a part its columns' roles. ``told`` hears of the rows done, of all."""
    parts, rows = [], []
    total = sum(len(table.rows) for table in tables)
    for table in tables:
        done = partial(_tell, told, len(rows), total)
        sheet = _Sheet(table, catalogue, chosen or {}, len(parts), done)
        rows += sheet.read()
        parts += sheet.parts
    return Reading(tuple(parts), tuple(rows))


def _tell(told: Callable[[int, int], None], before: int, total: int, rows: int) -> None:
    if rows % EVERY == 0:
        told(min(before + rows, total), total)


@dataclass
class _Section:
    """What the last heading of a section said of the rows below it."""

    maker: str = ""
    kind: str = ""
    goods: str = ""


@dataclass
class _Sheet:
    """One sheet while it is read, from the top."""

    table: Table
    catalogue: Catalogue
    chosen: Chosen
    place: int
    told: Callable[[int], None]
    parts: list[Part] = field(default_factory=list)

    def __post_init__(self):
        self.section = _Section()
        self.counted = self.in_part = 0
        self.above: Row = {}
        self.filled, self.merged = spread(self.table)

    def read(self) -> list[SourceRow]:
        """Every row in order; empty rows that follow each other stand as one."""
        rows: list[SourceRow] = []
        before = 0
        for part, numbered in self._in_parts():
            self.in_part = 0
            for number, row in numbered:
                if number > before + 1:
                    rows.append(self._gap(before + 1, number - 1, part))
                before = number
                held = rows[-1] if rows else None
                rows.append(self._row(number, row, part, held))
                if rows[-1].reason == CONTINUES:
                    rows[-2] = with_more(held, row, part.layout)
                self.told(len(rows))
        return rows

    def _gap(self, first: int, last: int, part: Part) -> SourceRow:
        return SourceRow(self.table.name, first, last, "", NOT_LINE, BLANK, part=part.place)

    def _in_parts(self) -> Iterator[tuple[Part, list[tuple[int, Row]]]]:
        rows = [(next(iter(row.values())).row, row) for row in self.table.rows]
        for place, (heading, start, end) in enumerate(self._cuts(rows), self.place):
            body = [row for _, row in rows[start:end]]
            below = body[1:] if heading else body
            top = rows[start][0]
            spread = [self.filled.get(number, {}) | row for number, row in rows[start:end]]
            layout = propose(
                body[0] if heading else {}, top if heading else 0,
                spread[1:] if heading else spread, self.catalogue,
            )  # fmt: skip
            layout = self._as_chosen(layout, top)
            part = Part(self.table.name, place, top, rows[end - 1][0], layout, samples_of(below))
            self.parts.append(part)
            self.mixed = any(
                is_mixed([row[column] for row in below if column in row], role)
                for role in (roles.HOURS, roles.YEAR)
                for column in layout.of(role)
            )
            yield part, rows[start:end]

    def _cuts(self, rows) -> list[tuple[bool, int, int]]:
        """Where parts begin and end: at each row of headings that differs from the last one."""
        starts, words, by_place = [(False, 0)], None, False
        for at, (_, row) in enumerate(rows):
            is_heading = heads(row, self.catalogue)
            if not is_heading and words is None and not by_place:
                below = [one for _, one in rows[at + 1 : at + 9]]
                is_heading = by_place = heads_by_place(row, below, self.catalogue)
            said = {column: cell.text.casefold() for column, cell in row.items()}
            if is_heading and said != words:
                starts.append((True, at))
                words = said
        if len(starts) > 1 and starts[1][1] == 0:
            starts = starts[1:]
        ends = [start for _, start in starts[1:]] + [len(rows)]
        return [(heading, start, end) for (heading, start), end in zip(starts, ends, strict=True)]

    def _as_chosen(self, layout: Layout, top: int) -> Layout:
        said = self.chosen.get((self.table.name, top), {})
        columns = {
            place: Column(said[place], 1.0, one.heading) if place in said else one
            for place, one in layout.columns.items()
        }
        return Layout(layout.heading_row, columns)

    def _row(self, number: int, row: Row, part: Part, held: SourceRow | None) -> SourceRow:
        text = " | ".join(cell.text for _, cell in sorted(row.items()))[:LONGEST_TEXT]
        said = SourceRow(self.table.name, number, number, text, NOT_LINE, part=part.place)
        if not any(c.isalnum() for c in text.replace("|", "")) and not self._has_ditto(row):
            return replace(said, reason=BLANK)
        if number == part.layout.heading_row or heads(row, self.catalogue):
            return replace(said, reason=HEADING)
        full = self.filled.get(number, {}) | self._ditto(row)
        around = Around(
            part.layout, self.section.maker, self.section.kind, self.section.goods,
            frozenset(self.merged.get(number, ())), self.mixed,
        )  # fmt: skip
        named = name_of(full, around, self.catalogue)
        if self._is_total(row, named, part.layout):
            return replace(said, reason=TOTAL)
        if named is None:
            return self._nameless(said, row, part.layout, held)
        if reason := self._no_line(row, named, part.layout):
            return replace(said, reason=reason)
        return self._line(said, full, named, around)

    def _line(self, said: SourceRow, row: Row, named: Named, around: Around) -> SourceRow:
        draft, doubts = draft_of(row, named, around)
        self.above = row
        self.counted += draft.count if draft.sort == "machine" else 0
        self.in_part += 1
        return replace(said, fate=QUESTION if doubts else LINE, draft=draft, doubts=doubts)

    def _has_ditto(self, row: Row) -> bool:
        return any(is_one_of(cell.text, "ditto") for cell in row.values()) and bool(self.above)

    def _ditto(self, row: Row) -> Row:
        """A row whose marks of repetition say what stands above them."""
        return {
            column: replace(self.above[column], row=cell.row)
            if column in self.above and is_one_of(cell.text, "ditto")
            else cell
            for column, cell in row.items()
        }

    def _is_total(self, row: Row, named: Named | None, layout: Layout) -> bool:
        best = named.match.best if named else None
        if any(is_total(cell.text) for cell in row.values()):
            return best is None or best.confidence < 0.7
        count = layout.cell(row, roles.COUNT)
        amount = figures.amount_of(count.value) if count else None
        return named is None and amount is not None and amount.number == self.counted > 1

    def _nameless(self, said, row: Row, layout: Layout, held) -> SourceRow:
        """A row without a name goes on with the one above, or is a note, or asks."""
        if len(row) == 1 and (reason := self._alone(next(iter(row.values())), layout)):
            return replace(said, reason=reason)
        continued = layout.of(roles.SERIAL, roles.NOTE)
        if held and held.draft and row.keys() <= set(continued):
            return replace(said, reason=CONTINUES)
        figured = any(any(c.isdigit() for c in cell.text) for cell in row.values())
        if (len(row) == 1 and not figured) or row.keys() <= set(layout.of(roles.NOTE, roles.ASIDE)):
            return replace(said, reason=NOTE if self.counted else TITLE)
        cell = next(iter(row.values()))
        draft = Draft("machine", said.text[:200], cell.ref)
        return replace(said, fate=QUESTION, draft=draft, doubts=(Doubt("nameless", cell.ref),))

    def _no_line(self, row: Row, named: Named, layout: Layout) -> str:
        """Why a row of one cell is no line, ``""`` when it is one. It may begin a section."""
        best = named.match.best
        if len(row) > 1 or named.amount or (best and best.confidence >= 0.6):
            return ""
        (cell,) = row.values()
        if reason := self._alone(cell, layout):
            return reason
        if named.known and len(layout.columns) == 1:
            return ""
        if not self.counted and not self.in_part and not named.known:
            return TITLE
        return NOTE if cell.text.rstrip().endswith((".", "!")) and not named.known else ""

    def _alone(self, cell: Cell, layout: Layout) -> str:
        """Whether the only cell of a row is a note or begins a section, by its words."""
        words = cell.text.split()
        if len(words) >= MANY_WORDS:
            return NOTE if self.in_part or self.counted else TITLE
        if not self._begins_section(cell, words, layout):
            return ""
        self.section = _Section(
            self.catalogue.maker_in(cell.text), kind_in(cell.text), goods_in(cell.text)
        )
        return SECTION

    def _begins_section(self, cell: Cell, words: list[str], layout: Layout) -> bool:
        text = cell.text
        if any(c.isdigit() for c in text):
            return False
        if names_section(text) or (words and names_section(words[0]) and len(words) <= 3):
            return True
        told = kind_in(text) or goods_in(text) or self.catalogue.maker_in(text)
        loud = text.isupper() or text.rstrip().endswith((":", "s"))
        return bool(told) and len(words) <= 4 and (len(layout.columns) > 1 or loud)
