"""What the rows of a supplier's price list say: parts, prices, and what is wrong with a row."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from parts.buying.domain.availability import availability
from units.catalogue.domain.keys import match_key
from units.sheets.domain.columns import Fault, Layout, Row, Wanted
from units.sheets.domain.table import Cell

MOST_COST = Decimal(1_000_000)
MOST_DAYS = 730
LONGEST = {"number": 60, "maker": 80, "name": 120}


def gettext_noop(sentence: str) -> str:
    """Marks a sentence for translation; whoever shows it translates it."""
    return sentence


WANTED = (
    Wanted(
        "number",
        gettext_noop("Part number"),
        ("part number", "part no", "number", "item", "item no", "item number", "sku", "article",
         "code", "part", "order number", "reference"),
        required=True,
    ),
    Wanted(
        "name",
        gettext_noop("Name"),
        ("name", "description", "designation", "text", "title", "part name", "item description"),
    ),
    Wanted(
        "cost",
        gettext_noop("Cost for one"),
        ("cost", "price", "net", "net price", "dealer price", "unit price", "each", "your price",
         "trade price", "unit cost", "list price"),
        "unit cost",
        required=True,
    ),
    Wanted(
        "maker",
        gettext_noop("Maker"),
        ("maker", "brand", "manufacturer", "make"),
    ),
    Wanted(
        "component",
        gettext_noop("Component"),
        ("component", "category", "group", "place", "kind of part", "type"),
    ),
    Wanted(
        "lead_days",
        gettext_noop("Days to come"),
        ("days to come", "lead time", "lead days", "lead time days", "delivery", "delivery days",
         "days", "ships in"),
        "whole",
    ),
    Wanted(
        "availability",
        gettext_noop("Can be had"),
        ("availability", "available", "stock", "status", "in stock", "can be had", "state",
         "on hand", "supply"),
    ),
)  # fmt: skip


@dataclass(frozen=True)
class Known:
    """What the shop knows already, by the keys for matching.

    ``parts`` maps a number's key to each of its parts, ``(maker's key, part id)``; a part that no
    maker numbers has the key ``""``. ``components`` maps a slug to its name.
    """

    parts: Mapping[str, Sequence[tuple[str, int]]]
    components: Mapping[str, str]


@dataclass(frozen=True)
class Offered:
    """One good row: a known part by its id, or what a new one is; and its price."""

    row: int
    part: int | None
    key: str
    number: str
    maker: str
    name: str
    component: str
    cost: Decimal
    lead_days: int | None
    status: str


class RowRefusedError(ValueError):
    """What is wrong in the ``column`` of a row: a sentence with ``%(text)s``, and that text."""

    def __init__(self, column: str, sentence: str, text: str):
        super().__init__(sentence)
        self.column, self.sentence, self.text = column, sentence, text


def sort_out(
    rows: Iterable[Row], layout: Layout, known: Known, maker: str = ""
) -> tuple[list[Offered], list[Fault]]:
    """The rows that can be taken in, and each fault with its cell and a sentence.

    ``maker`` numbers the parts of a row that names none. A number that stands twice for one maker
    is a fault at the second place, unless both rows say the same.
    """
    good, faults, seen = [], [], {}
    places = _by_length(known.components)
    for row in rows:
        try:
            offered = _offered(row, known, places, maker)
            if not _said_before(offered, seen):
                good.append(offered)
        except RowRefusedError as wrong:
            faults.append(_fault(row, layout, wrong))
    return good, faults


def _fault(row: Row, layout: Layout, wrong: RowRefusedError) -> Fault:
    choice = layout.columns.get(wrong.column) or layout.columns["number"]
    cell = Cell(row.number, choice.column, "")
    return Fault(cell.ref, row.number, wrong.sentence, {"text": wrong.text[:60]})


def _offered(row: Row, known: Known, places, maker: str) -> Offered:
    said = row.values
    _require_sense(said)
    number, maker = said["number"], said.get("maker") or maker
    key = match_key(number)
    part = _known_part(known.parts.get(key, ()), match_key(maker), number)
    name = said.get("name", "")
    return Offered(
        row=row.number,
        part=part,
        key=key,
        number=number,
        maker=maker,
        name=name,
        component="" if part else _component(said.get("component", ""), name, number, places),
        cost=said["cost"],
        lead_days=said.get("lead_days"),
        status=_status(said.get("availability", "")),
    )


def _status(text: str) -> str:
    if found := availability(text):
        return found
    sentence = gettext_noop(
        "“%(text)s” does not say whether it can be had. Write “in stock”, “limited”, "
        "“back order”, “discontinued” or “ask”."
    )
    raise RowRefusedError("availability", sentence, text)


def _require_sense(said: dict) -> None:
    number, key = said["number"], match_key(said["number"])
    if not key:
        sentence = gettext_noop("“%(text)s” is no part number: it needs a letter or a digit.")
        raise RowRefusedError("number", sentence, number)
    for column, longest in LONGEST.items():
        text = said.get(column, "")
        if max(len(text), len(match_key(text))) > longest:
            sentence = gettext_noop(
                "“%(text)s…” is too long. Shorten it, or choose another column."
            )
            raise RowRefusedError(column, sentence, text)
    if not 0 <= said["cost"] <= MOST_COST:
        sentence = gettext_noop("“%(text)s” is no cost for one: it is from 0 to a million.")
        raise RowRefusedError("cost", sentence, str(said["cost"]))
    if said.get("lead_days", 0) > MOST_DAYS:
        sentence = gettext_noop(
            "“%(text)s” days are more than two years. Correct or empty the cell."
        )
        raise RowRefusedError("lead_days", sentence, str(said["lead_days"]))


def _known_part(found: Sequence[tuple[str, int]], maker_key: str, number: str) -> int | None:
    if maker_key:
        return next((part for maker, part in found if maker == maker_key), None)
    if len(found) > 1:
        sentence = gettext_noop("Several makers have the number “%(text)s”. Name its maker.")
        raise RowRefusedError("maker", sentence, number)
    return found[0][1] if found else None


def _component(said: str, name: str, number: str, places) -> str:
    if said:
        named = component_in(said, places)
        if not named:
            sentence = gettext_noop("No component is called “%(text)s”. Write it as the shop does.")
            raise RowRefusedError("component", sentence, said)
    if not name:
        sentence = gettext_noop("The number “%(text)s” is new here: say what the part is called.")
        raise RowRefusedError("name", sentence, number)
    found = named if said else component_in(name, places)
    if not found:
        sentence = gettext_noop(
            "“%(text)s” is new here and its name tells no component. Add a column that says where "
            "it goes."
        )
        raise RowRefusedError("name", sentence, name)
    return found


def _by_length(components: Mapping[str, str]) -> list[tuple[str, str]]:
    """``(words, slug)``, those of several words first: a front roller is no roller in general."""
    words = {plain(name): slug for slug, name in components.items()}
    words |= {plain(slug): slug for slug in components}
    return sorted(words.items(), key=lambda one: (-len(one[0].split()), one[0]))


def component_in(text: str, places: Sequence[tuple[str, str]]) -> str:
    """The slug of the longest component name that stands in a text as whole words, or ``""``."""
    words = f" {plain(text)} "
    return next((slug for name, slug in places if f" {name} " in words), "")


def plain(text: str) -> str:
    """Lower case, letters and digits only, one space between words, no plural ``s`` at an end."""
    words = "".join(c if c.isalnum() else " " for c in text.casefold()).split()
    return " ".join(word[:-1] if len(word) > 3 and word.endswith("s") else word for word in words)


def _said_before(offered: Offered, seen: dict) -> bool:
    """Whether an earlier row said the same; a row that says another thing of it is refused."""
    said = (offered.cost, offered.lead_days, offered.status)
    before = seen.setdefault(offered.part or (offered.key, match_key(offered.maker)), said)
    if before == said:
        return before is not said
    sentence = gettext_noop("“%(text)s” stands here twice with different figures. Keep one row.")
    raise RowRefusedError("number", sentence, offered.number)
