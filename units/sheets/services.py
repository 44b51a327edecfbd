"""Open a spreadsheet that somebody sent: cap it first, then read it into plain tables."""

import csv
import io
import re
import zipfile
from collections.abc import Iterator
from datetime import date, datetime
from decimal import Decimal

from django.core.files.uploadedfile import UploadedFile
from django.utils.translation import gettext as _
from openpyxl import load_workbook

from units.sheets.domain.table import Cell, Table, column_number

MOST_BYTES = 12_000_000
MOST_UNZIPPED = 120_000_000
MOST_PARTS = 2_000
MOST_CELLS = 1_500_000
MOST_COLUMNS = 200
LONGEST_CELL = 2_000
MILLION = 1_000_000
ENCODINGS = ("utf-8-sig", "cp1252")
DELIMITERS = ",;\t|"
CELL = b"<c "
MERGED = re.compile(rb'<mergeCell\b[^>]*?\bref="([A-Z]{1,3})(\d{1,7}):([A-Z]{1,3})(\d{1,7})"')
MOST_MERGED, LONGEST_RANGE = 20_000, 60


class SheetRefusedError(ValueError):
    """A file that is not read. Its text is a sentence that says how to mend it."""


def check_sheet(upload: UploadedFile) -> bytes:
    """The content of an upload that is no larger than a list may be; nothing of it is read yet.

    Raises SheetRefusedError.
    """
    if upload.size > MOST_BYTES:
        raise SheetRefusedError(
            _("“%(name)s” has %(size)d MB; a list may have %(most)d MB. Send it in parts.")
            % {
                "name": upload.name,
                "size": -(-upload.size // MILLION),
                "most": MOST_BYTES // MILLION,
            }
        )
    upload.seek(0)
    content = upload.read()
    if content[:2] == b"PK":
        _refuse_bomb(content, upload.name)
    return content


def read_tables(upload: UploadedFile) -> list[Table]:
    """All filled sheets of an .xlsx or a .csv file. Raises SheetRefusedError."""
    content = check_sheet(upload)
    tables = (
        _workbook(content, upload.name) if content[:2] == b"PK" else _text(content, upload.name)
    )
    tables = [table for table in tables if table.rows]
    if not tables:
        raise SheetRefusedError(_("“%(name)s” holds no filled row.") % {"name": upload.name})
    return tables


def _workbook(content: bytes, name: str) -> list[Table]:
    try:
        _refuse_many_cells(content, name)
        book = load_workbook(io.BytesIO(content), read_only=True, data_only=True)
        merged = _merged(content)
        return [_sheet(sheet, name, merged) for sheet in book.worksheets]
    except SheetRefusedError:
        raise
    except Exception as error:
        # A parser meets hostile bytes here and raises whatever it likes.
        raise SheetRefusedError(
            _("“%(name)s” cannot be read as a workbook. Save it again as .xlsx or as .csv.")
            % {"name": name}
        ) from error


def _refuse_bomb(content: bytes, name: str) -> None:
    """Look at the sizes that the archive states before anything unpacks it.

    A reader of zip files never yields more than the size stated, so the statement can be trusted.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            parts = archive.infolist()
    except zipfile.BadZipFile as error:
        raise SheetRefusedError(
            _("“%(name)s” is damaged or was cut off on its way. Send it again.") % {"name": name}
        ) from error
    if len(parts) > MOST_PARTS or sum(part.file_size for part in parts) > MOST_UNZIPPED:
        raise SheetRefusedError(
            _("“%(name)s” unpacks to more than a list may hold. Save only the list itself.")
            % {"name": name}
        )


def _refuse_many_cells(content: bytes, name: str) -> None:
    """Count the cells as they are written, empty ones with a border too, before any is made.

    This costs a tenth of what reading them would. A prefix before the element hides them from
    this count, not from that of :func:`_sheet`.
    """
    cells = 0
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        for part in archive.infolist():
            with archive.open(part) as stream:
                before = b""
                while block := stream.read(MILLION):
                    block = before + block
                    cells += block.count(CELL)
                    if cells > MOST_CELLS:
                        raise _too_many(name)
                    before = block[1 - len(CELL) :]


def _merged(content: bytes) -> dict[str, tuple]:
    """``{part of the archive: ranges merged in it}``: a reader by rows does not tell them."""
    found = {}
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        for part in archive.namelist():
            if not part.startswith("xl/worksheets/") or not part.endswith(".xml"):
                continue
            with archive.open(part) as stream:
                found[part] = tuple(_ranges(stream))
    return found


def _ranges(stream) -> Iterator[tuple[int, int, int, int]]:
    before, count = b"", 0
    while block := stream.read(MILLION):
        block = before + block
        end = 0
        for match in MERGED.finditer(block):
            end = match.end()
            left, top, right, bottom = (part.decode() for part in match.groups())
            yield int(top), int(bottom), column_number(left), column_number(right)
            count += 1
            if count >= MOST_MERGED:
                return
        # A range may lie across two blocks.
        before = block[max(end, len(block) - LONGEST_RANGE) :]


def _sheet(sheet, name: str, merged: dict[str, tuple]) -> Table:
    rows, cells = [], 0
    for number, values in enumerate(sheet.iter_rows(max_col=MOST_COLUMNS, values_only=True), 1):
        row = {
            column: Cell(number, column, value)
            for column, raw in enumerate(values)
            if raw is not None and (value := _value(raw)) is not None
        }
        # Rows come padded to the most columns: only what is filled counts, an empty row as one.
        cells += len(row) or 1
        if cells > MOST_CELLS:
            raise _too_many(name)
        if row:
            rows.append(row)
    # openpyxl names the part that a sheet is read from nowhere else.
    part = sheet._worksheet_path.lstrip("/")
    return Table(sheet.title, tuple(rows), merged.get(part, ()))


def _value(raw):
    if raw is None or isinstance(raw, bool):
        return None if raw is None else str(raw)
    if isinstance(raw, datetime):
        return raw.date()
    if isinstance(raw, date):
        return raw
    if isinstance(raw, int | float):
        # Through text: 19.99 is meant, not the nearest binary fraction.
        return Decimal(str(raw)) if raw == raw and abs(raw) < 1e15 else str(raw)
    text = str(raw).strip()[:LONGEST_CELL]
    return text or None


def _text(content: bytes, name: str) -> list[Table]:
    text = _decoded(content, name)
    sample = text[:8000]
    delimiter = max(DELIMITERS, key=lambda mark: _regularity(sample, mark))
    rows, cells = [], 0
    try:
        for number, values in enumerate(csv.reader(io.StringIO(text), delimiter=delimiter), 1):
            cells += len(values)
            if cells > MOST_CELLS:
                raise _too_many(name)
            row = {
                column: Cell(number, column, value.strip()[:LONGEST_CELL])
                for column, value in enumerate(values[:MOST_COLUMNS])
                if value.strip()
            }
            if row:
                rows.append(row)
    except csv.Error as error:
        raise SheetRefusedError(
            _("“%(name)s” cannot be read as rows and columns: %(why)s")
            % {"name": name, "why": error}
        ) from error
    return [Table(name, tuple(rows))]


def _decoded(content: bytes, name: str) -> str:
    if b"\x00" in content[:4000]:
        raise SheetRefusedError(
            _("“%(name)s” is no spreadsheet that we can read. Save it as .xlsx or as .csv.")
            % {"name": name}
        )
    for encoding in ENCODINGS:
        try:
            return content.decode(encoding)
        except UnicodeDecodeError:
            continue
    return content.decode("latin-1")


def _regularity(sample: str, mark: str) -> float:
    """How evenly a mark stands in the lines: a separator stands in all, as often in each."""
    counts = [line.count(mark) for line in sample.splitlines()[:30] if line.strip()]
    if not counts or not any(counts):
        return 0.0
    usual = max(set(counts), key=counts.count)
    return usual and counts.count(usual) / len(counts) + 0.01 * usual


def _too_many(name: str) -> SheetRefusedError:
    return SheetRefusedError(
        _("“%(name)s” has more than %(most)d cells. Save only the list itself.")
        % {"name": name, "most": MOST_CELLS}
    )
