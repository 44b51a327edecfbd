"""Which column of a seller's list holds what, by its heading and by what stands in it.

Words of headings are not enough: sellers write their own, or none. So every column is also
judged by its cells: what reads as counts, serials, hours, years, prices, makers, models.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from itertools import pairwise

from shop.lots.domain.lists import figures
from shop.lots.domain.lists.matching import Catalogue
from shop.lots.domain.lists.words import goods_in, headings, is_one_of, kind_in, measure_of
from units.sheets.domain.columns import ALIKE, Wanted, likeness
from units.sheets.domain.table import Cell

MACHINE, NOTE, ASIDE = "machine", "note", "aside"
MAKER, KIND, COUNT, SERIAL, HOURS, YEAR = "maker", "kind", "count", "serial", "hours", "year"
MEASURE, PRICE = "measure", "price"
ROLES = (MACHINE, MAKER, KIND, COUNT, SERIAL, HOURS, YEAR, MEASURE, PRICE, NOTE, ASIDE)
MANY = (MACHINE, NOTE, ASIDE)  # roles that several columns may have
NAMING = (MAKER, MACHINE, KIND)
BY_HEADING, LEAST = 0.55, 0.30
MOST_JUDGED = 80
BETTER = 0.05

Row = dict[int, Cell]


@dataclass(frozen=True)
class Column:
    """What a column is taken for and how sure that is, 0 to 1."""

    role: str
    confidence: float
    heading: str = ""

    @property
    def is_unread(self) -> bool:
        """Whether nothing tells what it holds."""
        return self.role == ASIDE and self.confidence <= LEAST


@dataclass(frozen=True)
class Layout:
    """The columns of one part of a sheet, whose headings stand in ``heading_row`` (0: none)."""

    heading_row: int = 0
    columns: dict[int, Column] = field(default_factory=dict)

    def of(self, *roles: str) -> list[int]:
        return [column for column, one in sorted(self.columns.items()) if one.role in roles]

    def cell(self, row: Row, role: str) -> Cell | None:
        return next((row[column] for column in self.of(role) if column in row), None)


WANTED = {role: Wanted(role, role, words) for role, words in headings().items()}


def heads(row: Row, catalogue: Catalogue) -> bool:
    """Whether a row heads columns by its words: two of them or more, and hardly anything else."""
    texts = [cell.text for cell in row.values()]
    if len(texts) < 2 or any(not isinstance(cell.value, str) for cell in row.values()):
        return False
    known = [text for text in texts if role_like(text)[1] >= ALIKE]
    if len(known) < 2 or 2 * len(known) < len(texts):
        return False
    best = catalogue.match(" ".join(texts)).best
    return best is None or best.confidence < 0.7


def heads_by_place(row: Row, below: Sequence[Row], catalogue: Catalogue) -> bool:
    """Whether a row of words nobody knows heads the rows below it, which hold figures there."""
    if len(row) < 3 or any(any(c.isdigit() for c in cell.text) for cell in row.values()):
        return False
    if catalogue.maker_in(" ".join(cell.text for cell in row.values())):
        return False
    after = below[:8]
    shared = sum(len(row.keys() & other.keys()) for other in after)
    figured = [column for column in row if _holds_figures(_cells(after, column))]
    return bool(after) and shared >= 2 * len(after) and len(figured) >= 2


def _holds_figures(cells: list[Cell]) -> bool:
    figured = sum(any(c.isdigit() for c in cell.text) for cell in cells)
    return figured > 1 and 2 * figured > len(cells)


def role_like(heading: str) -> tuple[str, float]:
    """The role whose words are most like a heading, and how like, 0 to 1."""
    return max(((role, likeness(heading, one)) for role, one in WANTED.items()), key=lambda x: x[1])


def propose(heading: Row, heading_row: int, body: Sequence[Row], catalogue: Catalogue) -> Layout:
    """The likeliest role of each column. Of two columns for one role the likelier has it."""
    # A row of one cell is a section or a note and says nothing of its column.
    rows = [row for row in body if len(row) > 1][:MOST_JUDGED] or list(body[:MOST_JUDGED])
    places = sorted({column for row in rows for column in row} | set(heading))
    titles = {column: heading[column].text if column in heading else "" for column in places}
    scores = sorted(
        (
            (score, -column, role)
            for column in places
            for role, score in _scores(titles[column], _cells(rows, column), catalogue, len(rows))
        ),
        reverse=True,
    )
    found = _assigned(scores, titles, {})
    # A column that only seemed to hold figures leaves its role to another one.
    if rest := _rest(found, rows, catalogue):
        found = _assigned(
            scores, titles, {place: Column(MACHINE, 0.75, titles[place]) for place in rest}
        )
    return Layout(heading_row, found)


def _cells(rows: list[Row], column: int) -> list[Cell]:
    return [row[column] for row in rows if column in row]


def _assigned(scores, titles: dict[int, str], fixed: dict[int, Column]) -> dict[int, Column]:
    found, taken = dict(fixed), set()
    for score, place, role in scores:
        if score >= LEAST and -place not in found and (role in MANY or role not in taken):
            found[-place] = Column(role, round(min(score, 1.0), 2), titles[-place])
            taken.add(role)
    for column, title in titles.items():
        found.setdefault(column, Column(ASIDE, LEAST, title))
    return found


def _scores(heading: str, cells: list[Cell], catalogue: Catalogue, rows: int):
    role, like = role_like(heading) if heading else ("", 0.0)
    judged = _judged(cells, catalogue, rows)
    for name in ROLES:
        content = judged.get(name, 0.0)
        if like >= ALIKE and name == role:
            fits = content if cells else 0.5
            yield name, like * (BY_HEADING + (1 - BY_HEADING) * max(fits, 0.3))
        elif like < ALIKE:
            yield name, 0.75 * content
        elif content > 0.9 and name in (SERIAL, PRICE):
            yield name, 0.5 * content
        elif content > 0.9 and name == MEASURE:  # "Unit" may head the machines or their measure
            yield name, 0.9 * content


def _judged(cells: list[Cell], catalogue: Catalogue, rows: int) -> dict[str, float]:
    """How well the cells of a column would read as each role, 0 to 1."""
    said = [cell for cell in cells if not is_one_of(cell.text, "nothing")]
    if not said:
        return {}
    share = {role: sum(map(test, said)) / len(said) for role, test in _tests(catalogue).items()}
    texts = [cell.text for cell in said]
    if _counts_up(said):
        return {ASIDE: 0.97}
    if len(set(texts)) < len(texts) * 0.8:
        share[SERIAL] *= 0.4  # serials do not repeat
    if share[COUNT] and all(isinstance(cell.value, Decimal) for cell in said):
        # Bare figures: a count is small, hours are large.
        share[COUNT] *= 0.85
    if share[HOURS] and share[YEAR]:
        share[HOURS] = max(share[HOURS], 0.95 * (share[HOURS] + share[YEAR]))
    # A model column names a model in most rows; texts that name none are remarks.
    share[NOTE] = 0.55 * share.pop("text") * (1 - share[MACHINE])
    share[MACHINE] *= 0.6 + 0.4 * min(1.0, len(said) / max(rows, 1))
    return share


def _counts_up(cells: list[Cell]) -> bool:
    """Whether a column only numbers the rows."""
    numbers = list(filter(None, (figures.amount_of(cell.value) for cell in cells)))
    if len(numbers) < max(3, 0.6 * len(cells)):
        return False
    steps = [b.number - a.number for a, b in pairwise(numbers)]
    return sum(step == 1 for step in steps) >= 0.9 * len(steps)


def _tests(catalogue: Catalogue):
    def names(cell):
        best = catalogue.match(cell.text).best if isinstance(cell.value, str) else None
        return bool(best and best.confidence >= 0.55)

    return {
        MACHINE: lambda cell: names(cell) or bool(goods_in(cell.text)),
        MAKER: lambda cell: not names(cell) and len(cell.text.split()) < 4
        and bool(catalogue.maker_in(cell.text)),
        KIND: lambda cell: not names(cell) and bool(kind_in(cell.text))
        and len(cell.text.split()) < 4 and not catalogue.maker_in(cell.text),
        COUNT: _is_count,
        SERIAL: lambda cell: figures.looks_serial(cell.value) and not names(cell)
        and not isinstance(cell.value, Decimal),
        HOURS: _is_hours,
        YEAR: lambda cell: figures.year_of(cell.value) is not None and len(cell.text) < 20
        and not figures.looks_serial(cell.value),
        MEASURE: lambda cell: isinstance(cell.value, str) and bool(measure_of(cell.text)),
        PRICE: lambda cell: isinstance(cell.value, str) and cell.text[:1] in "$€£",
        "text": lambda cell: isinstance(cell.value, str) and any(c.isalpha() for c in cell.text),
    }  # fmt: skip


def _is_count(cell: Cell) -> bool:
    amount = figures.amount_of(cell.value)
    return amount is not None and (amount.number < 100 or not cell.text.isdigit())


def _is_hours(cell: Cell) -> bool:
    hours = figures.hours_of(cell.value)
    if hours is None or figures.is_bare_year(cell.value):
        return False
    return hours >= 100 or "h" in cell.text.casefold()


def _rest(found: dict[int, Column], rows: list[Row], catalogue: Catalogue) -> list[int]:
    """Columns beside the model's that hold the rest of its number and that no heading explains."""
    naming = [column for column, one in found.items() if one.role in NAMING]
    rest = []
    for column, one in sorted(found.items()):
        role, like = role_like(one.heading) if one.heading else ("", 0.0)
        told = like >= ALIKE and role == one.role
        if one.role not in (ASIDE, NOTE, COUNT, HOURS) or told or not _touches(column, naming):
            continue
        alone = _worth(rows, sorted(naming), catalogue)
        if _worth(rows, sorted([*naming, column]), catalogue) > BETTER + alone:
            rest.append(column)
            naming.append(column)
    return rest


def _touches(column: int, naming: list[int]) -> bool:
    return any(abs(column - other) == 1 for other in naming) or not naming


def _worth(rows: list[Row], naming: list[int], catalogue: Catalogue) -> float:
    """How well the rows match models when these columns are read together."""
    bests = [
        catalogue.match(" ".join(row[column].text for column in naming if column in row)).best
        for row in rows
    ]
    return sum(best.confidence for best in bests if best) / max(len(rows), 1)
