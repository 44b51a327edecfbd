"""Which column of an unknown spreadsheet holds what: by its heading and by what stands in it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from rapidfuzz import fuzz

from units.sheets.domain.marks import FIGURES, is_either, mark_of, pointed
from units.sheets.domain.table import Cell, Table
from units.sheets.domain.values import READERS, ValueRefusedError, gettext_noop, to_text

ROWS_FOR_HEADINGS = 40
ROWS_FOR_CONTENT = 60
ALIKE = 0.78  # a heading less like a word than this names nothing
BY_CONTENT = 0.35  # the most that content alone, without a heading, can be trusted


@dataclass(frozen=True)
class Wanted:
    """A column that a reader is looking for: the words that may head it, and the sort of value."""

    name: str
    title: str
    words: tuple[str, ...]
    sort: str = "text"
    required: bool = False


@dataclass(frozen=True)
class Choice:
    """A column proposed for a wanted one, and how sure that is (0 to 1)."""

    column: int
    confidence: float


@dataclass(frozen=True)
class Layout:
    """The row of the headings as in the file (0 if there is none), and the columns."""

    heading_row: int
    columns: dict[str, Choice] = field(default_factory=dict)

    def missing(self, wanted: Sequence[Wanted]) -> list[Wanted]:
        return [one for one in wanted if one.required and one.name not in self.columns]


@dataclass(frozen=True)
class Row:
    """One row that reads well: its number in the file and its values by wanted name."""

    number: int
    values: dict


@dataclass(frozen=True)
class Fault:
    """What is wrong with one cell and how to mend it; ``ref`` as in ``B7``."""

    ref: str
    row: int
    sentence: str
    named: dict[str, str]


@dataclass(frozen=True)
class Doubt:
    """A figure that by itself may mean thousands or thousandths, and what it was read as;
    ``told`` when the others of its column tell."""

    ref: str
    text: str
    value: Decimal | int
    told: bool


def propose(table: Table, wanted: Sequence[Wanted]) -> Layout:
    """The likeliest heading row and columns. Each column is proposed for one thing at most."""
    heading_row, headings = _heading_row(table, wanted)
    body = [row for row in table.rows if _number(row) > heading_row][:ROWS_FOR_CONTENT]
    scores = sorted(
        (
            (_score(headings.get(column, ""), column, one, body), -place, column, one.name)
            for column in range(table.width)
            for place, one in enumerate(wanted)
        ),
        reverse=True,
    )
    columns: dict[str, Choice] = {}
    taken: set[int] = set()
    for score, _place, column, name in scores:
        if score > 0 and column not in taken and name not in columns:
            columns[name] = Choice(column, round(score, 3))
            taken.add(column)
    return Layout(heading_row, columns)


def _number(row: dict[int, Cell]) -> int:
    return next(iter(row.values())).row


def _heading_row(table: Table, wanted) -> tuple[int, dict[int, str]]:
    best, found = 0.0, (0, {})
    for row in table.rows[:ROWS_FOR_HEADINGS]:
        headings = {column: cell.text for column, cell in row.items()}
        likes = [max(likeness(text, one) for one in wanted) for text in headings.values()]
        score = sum(like for like in likes if like >= ALIKE)
        if score > best and sum(like >= ALIKE for like in likes) >= min(2, len(wanted)):
            best, found = score, (_number(row), headings)
    return found


def likeness(heading: str, wanted: Wanted) -> float:
    """How like a heading is to the likest word, 0 to 1; short words must stand there exactly."""
    text = " ".join("".join(c if c.isalnum() else " " for c in heading.casefold()).split())
    if not text or len(text) > 40:
        return 0.0
    return max(_like_word(text, word.casefold()) for word in wanted.words)


def _like_word(text: str, word: str) -> float:
    if text == word:
        return 1.0
    tokens, parts = set(text.split()), set(word.split())
    inside = 0.94 - 0.04 * len(tokens - parts) if parts <= tokens else 0.0
    return max(inside, 0.97 * fuzz.token_sort_ratio(text, word) / 100 if len(word) > 3 else 0.0)


def _score(heading: str, column: int, wanted: Wanted, body) -> float:
    like = likeness(heading, wanted)
    cells = [row[column] for row in body if column in row]
    readable = sum(_reads(cell, wanted.sort) for cell in cells) / len(cells) if cells else 0.0
    if like >= ALIKE:
        return like * (0.6 + 0.4 * readable)
    # Text fits everywhere, so that it says nothing by itself.
    return 0.0 if heading or wanted.sort == "text" else BY_CONTENT * readable * bool(cells)


def _reads(cell: Cell, sort: str, mark: str = "") -> bool:
    try:
        READERS[sort](pointed(cell.value, mark))
    except ValueRefusedError:
        return False
    return True


def read_rows(
    table: Table, layout: Layout, wanted: Sequence[Wanted]
) -> tuple[list[Row], list[Fault]]:
    """Every row below the headings: those that read well, and each fault with its cell.

    Figures are read as the others of their column are written.
    """
    rows, faults = [], []
    used = [one for one in wanted if one.name in layout.columns]
    marks = _marks(table, layout, used)
    for cells in _body(table, layout):
        if not _holds(cells, layout):
            continue
        number = _number(cells)
        values, wrong = _read_row(cells, number, layout, used, marks)
        faults += wrong
        if not wrong:
            rows.append(Row(number, values))
    return rows, faults


def doubts(table: Table, layout: Layout, wanted: Sequence[Wanted]) -> list[Doubt]:
    """Of each column of figures the first cell that alone does not tell what it means."""
    used = [one for one in wanted if one.name in layout.columns and one.sort in FIGURES]
    marks = _marks(table, layout, used)
    found = []
    for one in used:
        for cell in _cells(table, layout, one):
            if is_either(cell.value) and _reads(cell, one.sort, marks[one.name]):
                value = READERS[one.sort](pointed(cell.value, marks[one.name]))
                found.append(Doubt(cell.ref, cell.text, value, bool(marks[one.name])))
                break
    return found


def _marks(table: Table, layout: Layout, used: Sequence[Wanted]) -> dict[str, str]:
    """The mark before the fraction in each column of figures, ``""`` where none is told."""
    return {
        one.name: mark_of(cell.value for cell in _cells(table, layout, one))
        if one.sort in FIGURES
        else ""
        for one in used
    }


def _cells(table: Table, layout: Layout, one: Wanted) -> Iterator[Cell]:
    column = layout.columns[one.name].column
    return (cells[column] for cells in _body(table, layout) if column in cells)


def _body(table: Table, layout: Layout) -> Iterator[dict[int, Cell]]:
    return (cells for cells in table.rows if _number(cells) > layout.heading_row)


def _holds(cells: dict[int, Cell], layout: Layout) -> bool:
    return any(choice.column in cells for choice in layout.columns.values())


def _read_row(cells, number: int, layout: Layout, wanted, marks) -> tuple[dict, list[Fault]]:
    values, faults = {}, []
    for one in wanted:
        column = layout.columns[one.name].column
        cell = cells.get(column)
        if cell is None:
            if one.required:
                where = Cell(number, column, "")
                sentence = gettext_noop("%(title)s is missing. Fill it in or delete the row.")
                faults.append(Fault(where.ref, number, sentence, {"title": one.title}))
            continue
        try:
            values[one.name] = READERS[one.sort](pointed(cell.value, marks[one.name]))
        except ValueRefusedError as error:
            named = {"text": to_text(cell.value)[:60], "title": one.title}
            faults.append(Fault(cell.ref, number, str(error), named))
    return values, faults
