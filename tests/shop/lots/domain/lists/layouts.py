"""Sellers' lists in bad layouts whose truth is known, made from a seed.

All makers and numbers are the invented ones of the demo.
"""

import csv
import io
import random
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

from django.core.files.base import ContentFile
from openpyxl import Workbook

from shop.lots.domain.lists.matching import Catalogue, Known
from shop.lots.domain.lists.reading import read_list
from shop.lots.domain.lists.source import Reading
from units.sheets.services import read_tables

MODELS = Path(__file__).parents[5] / "fixtures" / "demo" / "models.csv"
HEADINGS = {
    "name": ["Model", "Equipment", "What we've got", "Item description", "MACHINE", "Bezeichnung"],
    "maker": ["Brand", "Make", "Manufacturer", "Hersteller"],
    "more": ["No.", "Model #", None],
    "count": ["Qty", "How many", "# of units", "pcs", "Stück"],
    "serial": ["S/N", "Serial #", "serial numbers", "Seriennr."],
    "hours": ["Hours", "Clock", "hour meter", "hrs / year"],
    "note": ["Remarks", "Condition", "Notes", "Zustand"],
}
NUMBERS = ["zero", "one", "two", "three", "four", "five"]
PLURALS = {"treadmill": "Treadmills", "elliptical": "ELLIPTICALS", "rower": "Rowers:"}
REMARKS = [None, "works", "squeaks a bit", "n/a", "console dark", "needs a belt"]


@cache
def catalogue() -> Catalogue:
    with MODELS.open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    return Catalogue(
        Known(pk, row["maker"], row["number"], row["kind"], row["name"])
        for pk, row in enumerate(rows, start=1)
    )


@dataclass(frozen=True)
class Truth:
    """What a line really is."""

    model: Known
    count: int
    serials: tuple[str, ...] = ()
    hours: int | None = None
    year: int | None = None


@dataclass
class Sheets:
    """A made list: its bytes, and by sheet and row what is true of the lines."""

    content: bytes = b""
    true: dict[tuple[str, int], Truth] = field(default_factory=dict)
    filled: dict[str, int] = field(default_factory=dict)  # the last filled row of each sheet


def read(content: bytes, name: str = "list.xlsx") -> Reading:
    return read_list(read_tables(ContentFile(content, name=name)), catalogue())


def workbook(*sheets: Sequence[Sequence], names: Sequence[str] = (), merge=()) -> bytes:
    """Sheets of rows of values as an .xlsx file; ``merge`` are ranges of the first sheet."""
    book = Workbook()
    book.remove(book.active)
    for place, rows in enumerate(sheets):
        sheet = book.create_sheet(names[place] if names else f"Sheet{place + 1}")
        for row in rows:
            sheet.append(list(row))
    for area in merge:
        book.worksheets[0].merge_cells(area)
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


class Maker:
    """Makes one list. Each choice of a layout is drawn once for the list or once for a row."""

    def __init__(self, seed: int):
        self.draw = random.Random(seed)
        self.split = self.draw.random() < 0.4  # maker and number in columns of their own
        self.cut = self.split and self.draw.random() < 0.5  # and the number cut in two
        self.counts_in_name = not self.split and self.draw.random() < 0.2
        self.numbered = self.draw.random() < 0.5
        self.headed = self.draw.random() < 0.85
        self.sections = self.draw.random() < 0.4
        self.mixed_dates = self.draw.random() < 0.3
        self.order = ["name", "count", "serial", "hours", "note"]
        if self.draw.random() < 0.6:
            self.draw.shuffle(self.order)
        if self.counts_in_name:
            self.order.remove("count")

    def make(self, machines: int = 20, sheets: int = 1) -> Sheets:
        made, book = Sheets(), []
        for place in range(sheets):
            name = f"Sheet{place + 1}"
            rows = self._sheet(name, machines // sheets, made)
            made.filled[name] = len(rows)
            book.append(rows)
        made.content = workbook(*book)
        return made

    def _sheet(self, name: str, machines: int, made: Sheets) -> list[list]:
        rows: list[list] = []
        if self.draw.random() < 0.7:
            rows += [["Millrace Athletic, closing sale"], []]
        if self.draw.random() < 0.3:
            rows.append([None, "Everything has to be out of the building by the 13th, please"])
        if self.headed:
            rows.append(self._heading())
        chosen = self.draw.sample(catalogue().models, machines)
        chosen.sort(key=lambda model: model.kind)
        kind, total = "", 0
        for place, model in enumerate(chosen, start=1):
            if self.sections and model.kind != kind and model.kind in PLURALS:
                rows.append([PLURALS[model.kind]])
            kind = model.kind
            if self.draw.random() < 0.05:
                rows.append([])
            true, row = self._row(place, model)
            rows.append(row)
            made.true[name, len(rows)] = true
            total += true.count
        if self.draw.random() < 0.6:
            rows.append(self._total(total))
        return rows

    def _heading(self) -> list:
        found = []
        for one in self.order:
            if one == "name" and self.split:
                found += [self.draw.choice(HEADINGS["maker"]), self.draw.choice(HEADINGS["name"])]
                found += [self.draw.choice(HEADINGS["more"])] * self.cut
            else:
                found.append(self.draw.choice(HEADINGS[one]))
        return ["#", *found] if self.numbered else found

    def _row(self, place: int, model: Known) -> tuple[Truth, list]:
        count = self.draw.choice([1, 1, 1, 2, 3, 4])
        serials = tuple(f"ML{self.draw.randrange(10**8, 10**9)}" for _ in range(count))
        serials = serials if self.draw.random() < 0.6 else ()
        hours = self.draw.randrange(150, 12000) if self.draw.random() < 0.6 else None
        year = None
        if hours is not None and self.mixed_dates and self.draw.random() < 0.4:
            hours, year = None, self.draw.randrange(2008, 2024)
        true = Truth(model, count, serials, hours, year)
        cells = {
            "name": self._name(true),
            "count": [self._count(count, bool(serials))],
            "serial": [self.draw.choice([" / ", ", ", "\n", "; "]).join(serials) or None],
            "hours": [self._use(hours, year)],
            "note": [self.draw.choice(REMARKS)],
        }
        row = [value for one in self.order for value in cells[one]]
        return true, [place, *row] if self.numbered else row

    def _name(self, true: Truth) -> list:
        maker, number = true.model.maker, true.model.number
        kind = true.model.kind.replace("-", " ")
        if self.split:
            maker = self.draw.choice([maker, maker.upper(), maker])
            if self.cut and " " in number:
                return [maker, *number.split(" ", 1)]
            return [maker, number, *[None] * self.cut]
        squeezed = self.draw.choice([number, number.replace(" ", ""), number.replace("-", " ")])
        ways = [f"{maker} {squeezed}", f"{kind} {maker} {squeezed}", f"{squeezed} {kind}"]
        ways += [f"{maker.upper()} {squeezed}", f"{maker} {kind} ({squeezed})"]
        text = self.draw.choice(ways)
        if self.counts_in_name and true.count > 1:
            ways = [f"{true.count} x {text}", f"({true.count}) {text}", f"{text} x{true.count}"]
            text = self.draw.choice([*ways, f"{text}, {true.count} pcs"])
        return [text]

    def _count(self, count: int, told_by_serials: bool):
        ways = [count, str(count), f"{count} ea", f"x{count}", f"qty: {count} pcs", NUMBERS[count]]
        if told_by_serials or count == 1:
            ways.append(None)
        return self.draw.choice(ways)

    def _use(self, hours: int | None, year: int | None):
        if year is not None:
            return self.draw.choice([f"{year}-05", f"bought {year}", f"03/{year}"])
        if hours is None:
            return self.draw.choice([None, "n/a", "?"])
        return self.draw.choice([hours, f"{hours:,} h", f"{hours} hrs"])

    def _total(self, total: int) -> list:
        label = self.draw.choice(["TOTAL", "Total machines:", "Sum"])
        return [label, total] if self.counts_in_name else [label, None, total]
