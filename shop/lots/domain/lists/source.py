"""What becomes of the rows of a seller's list: lines, known non-lines with a reason, questions."""

from dataclasses import dataclass, field
from decimal import Decimal

from shop.lots.domain.lists.columns import Layout
from shop.lots.domain.lists.matching import Candidate

MACHINE, GOODS = "machine", "goods"
LINE, NOT_LINE, QUESTION = "line", "not-line", "question"
BLANK, TITLE, SECTION, HEADING, TOTAL, NOTE, CONTINUES = (
    "blank", "title", "section", "heading", "total", "note", "continues",
)  # fmt: skip


def gettext_noop(sentence: str) -> str:
    """Marks a sentence for translation; whoever shows it translates it."""
    return sentence


QUESTIONS = {
    "what": gettext_noop("“%(text)s” names no machine and no goods that we know. What is it?"),
    "count": gettext_noop("“%(text)s” says no count. How many are there?"),
    "serials": gettext_noop(
        "The count says %(count)s, the serial numbers are %(serials)s. How many are there?"
    ),
    "run": gettext_noop(
        "“%(text)s” may be a run of %(serials)s serial numbers, but no count says so. How many are"
        " there?"
    ),
    "hours": gettext_noop("“%(text)s” says no hours. What does the clock show?"),
    "hours-or-year": gettext_noop(
        "“%(text)s” may be hours or a year: its column holds both. Which is it?"
    ),
    "nameless": gettext_noop("These figures stand without a name. What do they count?"),
    "merged-count": gettext_noop(
        "One count, “%(text)s”, stands for several rows. How many of it are these?"
    ),
    "mass": gettext_noop("“%(text)s” is worth what it weighs. How heavy is it all together?"),
    "area": gettext_noop("“%(text)s” is worth what it covers. How much is it all together?"),
    "amount": gettext_noop("How much of these goods is there? The list says no amount."),
}


@dataclass(frozen=True)
class Doubt:
    """A question about one cell; ``code`` is a key of :data:`QUESTIONS`, ``ref`` as in ``B7``."""

    code: str
    ref: str
    named: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Draft:
    """What a row offers. ``text`` is as written, ``ref`` the cell of its name.

    Of machines ``count`` pieces, with the maker and number as typed; of goods ``quantity`` of a
    ``measure``, in so many ``pieces`` where that is told. ``asked`` is for one measure.
    """

    sort: str
    text: str
    ref: str
    maker: str = ""
    number: str = ""
    kind: str = ""
    candidates: tuple[Candidate, ...] = ()
    sure: bool = False
    count: int = 1
    serials: tuple[str, ...] = ()
    hours: int | None = None
    year: int | None = None
    note: str = ""
    goods: str = ""
    measure: str = ""
    quantity: Decimal | None = None
    pieces: int | None = None
    asked: Decimal | None = None


@dataclass(frozen=True)
class SourceRow:
    """One row of a sheet (or the empty rows ``row`` to ``upto``) and what it ends as.

    ``fate`` is a line, no line for a ``reason``, or a question; ``part`` is its part's place.
    """

    sheet: str
    row: int
    upto: int
    text: str
    fate: str
    reason: str = ""
    draft: Draft | None = None
    doubts: tuple[Doubt, ...] = ()
    part: int = 0


@dataclass(frozen=True)
class Part:
    """Rows of a sheet that stand under one row of headings, from ``first`` to ``last``."""

    sheet: str
    place: int
    first: int
    last: int
    layout: Layout
    samples: dict[int, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Reading:
    """A whole list as it reads."""

    parts: tuple[Part, ...]
    rows: tuple[SourceRow, ...]

    def of(self, fate: str) -> list[SourceRow]:
        return [row for row in self.rows if row.fate == fate]
