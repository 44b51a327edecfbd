"""The CSV listing of 22 columns.

Source: the headings of the agency's public listing (REFERENCE section 8).
"""

import csv
import io
import re

from units.recalls.domain.notice import Notice, Product, digits
from units.recalls.domain.texts import (
    LONGEST_NUMBER,
    RecallFileError,
    day,
    gettext_noop,
    one_line,
    plain,
)

HEADINGS = (
    "Recall Number", "Product Safety Warning Number", "Date", "Product Safety Warning Date",
    "Recall Heading", "Name of product", "Description", "Hazard Description", "Consumer Action",
    "Original Product Safety Warning Announcement", "Remedy Type", "Units", "Incidents", "Remedy",
    "Sold At Label", "Sold At", "Importers", "Manufacturers", "Distributors", "Manufactured In",
    "Custom Label", "Custom Field",
)  # fmt: skip
LONGEST_CELL = 1_000_000
BETWEEN_PARTIES = re.compile(r"\n|;|\|")


def read_csv(text: str) -> list[Notice]:
    """Raises RecallFileError with the line at which the broken row begins."""
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    begins, width, notices = 1, 0, []
    limit = csv.field_size_limit(LONGEST_CELL)
    try:
        for row in reader:
            if begins == 1:
                columns = _columns(row)
                width = len(row)
            elif any(cell.strip() for cell in row):
                if len(row) != width:
                    raise _broken(begins)
                notices.append(_notice(dict(zip(columns, row, strict=True)), begins))
            begins = reader.line_num + 1
    except csv.Error as error:
        raise _broken(begins) from error
    finally:
        csv.field_size_limit(limit)
    return notices


def _broken(line: int) -> RecallFileError:
    return RecallFileError(
        gettext_noop(
            "The row that begins in line %(line)d breaks off or is damaged. Nothing was loaded: "
            "download the file again."
        ),
        line=line,
    )


def _columns(row: list[str]) -> list[str]:
    known = {name.lower(): name for name in HEADINGS}
    columns = [known.get(one_line(cell).lower(), cell) for cell in row]
    missing = [name for name in HEADINGS if name not in columns]
    if missing:
        raise RecallFileError(
            gettext_noop(
                "Line 1 lacks the heading “%(heading)s”. Load the CSV list of recalls as it came, "
                "with its 22 columns."
            ),
            heading=missing[0],
        )
    return columns


def _notice(cells: dict[str, str], line: int) -> Notice:
    number, said_on = one_line(cells["Recall Number"]), one_line(cells["Date"])
    if not digits(number):
        # A warning is published in the same list, under a number of its own.
        number = one_line(cells["Product Safety Warning Number"])
        said_on = one_line(cells["Product Safety Warning Date"]) or said_on
    if not digits(number) or len(number) > LONGEST_NUMBER:
        raise RecallFileError(
            gettext_noop("The row that begins in line %(line)d has no recall number."), line=line
        )
    return Notice(
        number=number,
        title=one_line(cells["Recall Heading"]),
        announced_on=_day(said_on, line),
        description=plain(cells["Description"]),
        products=(
            Product(name=one_line(cells["Name of product"]), units=one_line(cells["Units"])),
        ),
        parties=tuple(_parties(cells)),
        hazard=plain(cells["Hazard Description"]),
        remedy="\n".join(filter(None, map(plain, (cells["Remedy"], cells["Remedy Type"])))),
        contact=plain(cells["Consumer Action"]),
        sold_at=plain(cells["Sold At"]),
        raw=cells,
    )


def _parties(cells: dict[str, str]) -> list[str]:
    texts = (cells[name] for name in ("Manufacturers", "Importers", "Distributors"))
    names = (one_line(name) for text in texts for name in BETWEEN_PARTIES.split(plain(text)))
    return list(dict.fromkeys(filter(None, names)))


def _day(text: str, line: int):
    try:
        return day(text)
    except ValueError as error:
        raise RecallFileError(
            gettext_noop(
                "The row that begins in line %(line)d gives “%(text)s” as its day. Known forms: "
                "January 15, 2024, or 2024-01-15."
            ),
            line=line,
            text=text[:60],
        ) from error
