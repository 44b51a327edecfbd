"""The closing club's list as the club made it: an odd spreadsheet, drawn from ``millrace.csv``."""

import io
import zipfile

from openpyxl import Workbook

from shop.front.demo.story import rows

NAME = "millrace.xlsx"
TOP = [
    ["MILLRACE ATHLETIC"],
    ["everything has to be out by the end of the month, stairs at the back, call the office first"],
    [],
]
COUNTS = ["1 ea", "x1", 1, "one", None, "1 pc"]
MAKERS = {"Holmgate", "Ostramill", "Kestrow", "Dunmarrow"}
# What the club wrote carelessly, by the row of millrace.csv: its name.
NAMES = {11: "the 7250 by the window", 26: "recumbent 3350 (Holmgate)", 46: "DM 240x leg curl"}
A_FEW, A_YEAR = 17, 20  # rows whose count is "a few", whose clock is a bare year
SECTIONS = {1: "TREADMILLS", 13: "ELLIPTICALS", 21: "BIKES", 37: "STAIR CLIMBERS"}
GOODS = [
    ["FREE WEIGHTS AND FLOOR"],
    ["what", "how much", "note"],
    ["Bumper plates approx 1,180 lb", None, "rubber, two cracked"],
    ["Hex dumbbells 5-75 lb", "2 sets", "one rack of each"],
    ["Flat bench", "4 pcs", None],
    ["dumbbell rack", "two", "three tiers"],
    ["Rubber flooring", "1,240 sq ft", "glued in places"],
    ["TOTAL", None, None],
]


def draw_list() -> bytes:
    """The spreadsheet: two sheets of machines under unlike headings, and one of goods."""
    machines = rows("millrace.csv")
    book = Workbook()
    _first(book.active, machines[:28])
    _second(book.create_sheet("upstairs"), machines[28:])
    floor = book.create_sheet("weights etc")
    for row in GOODS:
        floor.append(row)
    return _without_clock(book)


def _first(sheet, machines) -> None:
    """Names in one cell, counts in words, hours and years in one column, sections and a sum."""
    sheet.title = "cardio floor"
    for row in TOP:
        sheet.append(row)
    sheet.merge_cells("A1:F1")
    sheet.append(["#", "What we've got", "How many", "S/N", "Clock", "Remarks"])
    for row in machines:
        place = int(row["position"])
        if place in SECTIONS:
            sheet.append([None, SECTIONS[place]])
        hours = int(row["hours"]) if row["hours"] else None
        clock = (f"{hours:,} h", hours, f"{hours} hrs")[place % 3] if hours else "bought 2016"
        count = "a few" if place == A_FEW else COUNTS[place % len(COUNTS)]
        clock = 2014 if place == A_YEAR else clock
        text = NAMES.get(place, row["text"])
        sheet.append([place, text, count, row["serial"], clock, row["note"]])
    sheet.append([None, "TOTAL cardio floor", len(machines)])


def _second(sheet, machines) -> None:
    """Other columns in another order; maker and number stand apart, headings come again."""
    heading = ["Serial no.", "Make", "Model", "Qty", "Condition", "Hours"]
    sheet.append(["Upstairs: studio, rowers and strength"])
    sheet.append(heading)
    for at, row in enumerate(machines):
        if at == 9:
            sheet.append([])
            sheet.append(heading)
        maker, number = _apart(row)
        hours = int(row["hours"]) if row["hours"] else "n/a"
        sheet.append([row["serial"], maker, number, "1", row["note"], hours])


def _apart(row: dict) -> tuple[str, str]:
    """The maker as the club wrote it, and what else it wrote; some lines name no maker."""
    words = NAMES.get(int(row["position"]), row["text"]).split()
    makers = [
        word for word in words if word.title() in ("Holmgate", "Ostramill", "Kestrow", "Dunmarrow")
    ]
    rest = [word for word in words if word not in makers]
    return " ".join(makers), " ".join(rest)


def _without_clock(book: Workbook) -> bytes:
    """The file, the same on every day it is made."""
    raw, made = io.BytesIO(), io.BytesIO()
    book.save(raw)
    with zipfile.ZipFile(raw) as source, zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as target:
        for part in source.namelist():
            if part != "docProps/core.xml":
                target.writestr(zipfile.ZipInfo(part, (2026, 1, 1, 0, 0, 0)), source.read(part))
            else:
                target.writestr(zipfile.ZipInfo(part, (2026, 1, 1, 0, 0, 0)), CORE)
    return made.getvalue()


CORE = (
    b'<?xml version="1.0"?><cp:coreProperties xmlns:cp="http://schemas.openxmlformats.org/package/'
    b'2006/metadata/core-properties"/>'
)
