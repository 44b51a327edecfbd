from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from django.core.files.base import ContentFile
from django.db.models import QuerySet
from django.utils.translation import gettext as _

from parts.buying.domain.pricelist import WANTED, Known, Offered, sort_out
from parts.buying.models import PriceList
from parts.fits.models import Part
from units.catalogue.domain.keys import match_key
from units.catalogue.models import Component
from units.sheets.domain.columns import (
    Choice,
    Doubt,
    Fault,
    Layout,
    Row,
    doubts,
    propose,
    read_rows,
)
from units.sheets.domain.table import Table, column_name
from units.sheets.services import read_tables
from units.show.words import number

KEYS_A_QUERY = 5000
LONGEST_SAMPLE = 30


@dataclass(frozen=True)
class Chosen:
    """What a person chose of a list: the sheet by its place, the columns by wanted name.

    ``columns`` maps a name to a column counted from 0, or to ``None`` for none; names left out
    are proposed. ``maker`` numbers the parts of rows that name none.
    """

    sheet: int | None = None
    columns: Mapping[str, int | None] = field(default_factory=dict)
    maker: str = ""


@dataclass(frozen=True)
class Wrong:
    """A bad cell, its row, and a translated sentence."""

    ref: str
    row: int
    sentence: str


@dataclass(frozen=True)
class ListReading:
    """A list as it reads by the chosen columns.

    ``columns`` are ``(column, words)`` of the sheet, words being its letter, heading and a sample;
    ``missing`` are the titles of columns that must be chosen before anything can be read;
    ``remarks`` say how figures were read that could mean two things.
    """

    sheets: list[str]
    sheet: int
    layout: Layout
    columns: list[tuple[int, str]]
    missing: list[str]
    offered: list[Offered]
    faults: list[Wrong]
    remarks: list[str]

    @property
    def new_parts(self) -> int:
        return len({(one.key, match_key(one.maker)) for one in self.offered if not one.part})


def price_lists() -> QuerySet[PriceList]:
    return PriceList.objects.select_related("supplier", "sent_by").defer("content")


def given_before(price_list: PriceList) -> date | None:
    """The last earlier day on which the supplier gave the very same list. One query."""
    same = PriceList.objects.filter(supplier=price_list.supplier_id, digest=price_list.digest)
    earlier = same.filter(given_on__lt=price_list.given_on).order_by("-given_on")
    return earlier.values_list("given_on", flat=True).first()


def read_list(price_list: PriceList, chosen: Chosen) -> ListReading:
    """What the list says by the columns that were chosen, or else by those that are likeliest."""
    tables = read_tables(ContentFile(bytes(price_list.content), name=price_list.name))
    layouts = [propose(table, WANTED) for table in tables]
    sheet = chosen.sheet
    if sheet is None or sheet >= len(tables):
        sheet = max(range(len(tables)), key=lambda place: _likelihood(layouts[place]))
    table, layout = tables[sheet], _with_choice(layouts[sheet], chosen.columns)
    missing = [_(one.title) for one in layout.missing(WANTED)]
    rows, faults = ([], []) if missing else read_rows(table, layout, WANTED)
    offered, more = sort_out(rows, layout, _known(rows), chosen.maker)
    return ListReading(
        sheets=[table.name for table in tables],
        sheet=sheet,
        layout=layout,
        columns=_columns(table, layout),
        missing=missing,
        offered=offered,
        faults=[_wrong(fault) for fault in sorted([*faults, *more], key=lambda fault: fault.row)],
        remarks=[] if missing else [_remark(one) for one in doubts(table, layout, WANTED)],
    )


def _likelihood(layout: Layout) -> float:
    return sum(choice.confidence for choice in layout.columns.values())


def _with_choice(layout: Layout, columns: Mapping[str, int | None]) -> Layout:
    """The proposed layout with what a person chose, of which he is sure."""
    merged = dict(layout.columns)
    for name, column in columns.items():
        if column is None:
            merged.pop(name, None)
        elif name not in merged or merged[name].column != column:
            merged[name] = Choice(column, 1.0)
    return Layout(layout.heading_row, merged)


def _columns(table: Table, layout: Layout) -> list[tuple[int, str]]:
    headings, samples = {}, {}
    for row in table.rows:
        number = next(iter(row.values())).row
        if number > layout.heading_row and len(samples) == table.width:
            break
        for column, cell in row.items():
            if number == layout.heading_row:
                headings[column] = cell.text
            elif number > layout.heading_row:
                samples.setdefault(column, cell.text[:LONGEST_SAMPLE])
    words = [
        " · ".join(filter(None, [column_name(place), headings.get(place), samples.get(place)]))
        for place in range(table.width)
    ]
    return list(enumerate(words))


def _known(rows: list[Row]) -> Known:
    keys = sorted({match_key(row.values["number"]) for row in rows})
    parts = defaultdict(list)
    for first in range(0, len(keys), KEYS_A_QUERY):
        found = Part.objects.filter(key__in=keys[first : first + KEYS_A_QUERY]).order_by("pk")
        for key, maker, part in found.values_list("key", "maker__key", "pk"):
            parts[key].append((maker or "", part))
    return Known(parts, dict(Component.objects.values_list("slug", "name")))


def _remark(doubt: Doubt) -> str:
    named = {"ref": doubt.ref, "text": doubt.text, "figure": number(Decimal(doubt.value))}
    if doubt.told:
        sentence = _("“%(text)s” in %(ref)s is read as %(figure)s, as its column is written.")
    else:
        sentence = _(
            "“%(text)s” in %(ref)s is read as %(figure)s; nothing else in its column tells whether "
            "thousands are meant. Check it."
        )
    return sentence % named


def _wrong(fault: Fault) -> Wrong:
    named = fault.named | ({"title": _(fault.named["title"])} if "title" in fault.named else {})
    return Wrong(fault.ref, fault.row, _(fault.sentence) % named)
