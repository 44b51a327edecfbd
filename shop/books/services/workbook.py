"""The accountant's workbook of a month, written row by row so that a big month needs no memory."""

from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import IO

from django.conf import settings
from django.contrib.auth.models import AbstractBaseUser
from django.utils.translation import gettext as _
from openpyxl import Workbook
from openpyxl.cell import Cell, WriteOnlyCell
from openpyxl.styles import Font
from openpyxl.utils import get_column_letter

from shop.books.domain.cells import safe_text
from shop.books.domain.months import Month
from shop.books.selectors.figures import Figures, figures_of
from shop.books.selectors.registers import REGISTERS, Column
from shop.books.selectors.words import ASSUMPTIONS, TIES, month_name
from shop.books.services.accounts import posting_rules
from shop.books.services.posting import post_pending
from shop.people.models import ShopProfile
from units.show import words
from units.show.words import day, moment

BOLD = Font(bold=True)
FORMATS = {
    "text": "@",
    "day": "yyyy-mm-dd",
    "money": "#,##0.00",
    "quantity": "#,##0.###",
    "percent": "0.####",
}
ACCOUNTS = (
    Column("account", width=9),
    Column("account name", width=30),
    Column("debit", "money"),
    Column("credit", "money"),
    Column("balance", "money"),
)


def make_book(
    *, month: Month, file: IO[bytes] | str, by: AbstractBaseUser | None, at: datetime
) -> tuple[int, Figures]:
    """Post what is pending through the month's end and write its workbook to ``file``.

    Returns how many documents were posted, and the month's figures. Raises BooksError or
    DayClosedError.
    """
    posted = post_pending(through=month.last, by=by, at=at)
    figures = figures_of(month, posting_rules())
    book = Workbook(write_only=True)
    _read_me(book, figures, by, at)
    *registers, journal = REGISTERS
    for register in registers:
        _sheet(book, str(register.title), register.columns, register.rows(month))
    _sheet(book, _("Accounts"), ACCOUNTS, _account_rows(figures))
    _sheet(book, str(journal.title), journal.columns, journal.rows(month))
    book.save(file)
    return posted, figures


def _account_rows(figures: Figures) -> Iterable[tuple]:
    for account in figures.accounts:
        yield account.number, account.name, account.debit, account.credit, account.balance


def _sheet(book: Workbook, title: str, columns: Sequence[Column], rows: Iterable[tuple]) -> None:
    sheet = book.create_sheet(title)
    sheet.freeze_panes = "A2"
    for place, column in enumerate(columns, start=1):
        sheet.column_dimensions[get_column_letter(place)].width = column.width
    sheet.append([_head(sheet, str(column.title)) for column in columns])
    cells = _cells(sheet, columns)
    for row in rows:
        sheet.append(_filled(cells, columns, row))


def _cells(sheet, columns: Sequence[Column]) -> list[Cell]:
    """One formatted cell a column, used again for each row: a row is written when appended."""
    cells = [WriteOnlyCell(sheet) for _column in columns]
    for cell, column in zip(cells, columns, strict=True):
        cell.number_format = FORMATS[column.form]
    return cells


def _filled(cells: Sequence[Cell], columns: Sequence[Column], row: tuple) -> list[Cell | None]:
    filled = []
    for cell, column, value in zip(cells, columns, row, strict=True):
        if value in (None, ""):
            filled.append(None)
            continue
        cell.value = safe_text(value) if column.form == "text" else value
        filled.append(cell)
    return filled


def _head(sheet, text: str) -> Cell:
    cell = WriteOnlyCell(sheet, safe_text(text))
    cell.font = BOLD
    return cell


TEXT, MONEY = Column(""), Column("", "money")
TIE = (TEXT, MONEY, MONEY, MONEY, TEXT)


def _read_me(book: Workbook, figures: Figures, by, at: datetime) -> None:
    sheet = book.create_sheet(_("Read me"))
    for letter, width in zip("ABCDE", (72, 18, 18, 14, 10), strict=True):
        sheet.column_dimensions[letter].width = width
    for title, texts in _sections(figures, by, at):
        sheet.append([_head(sheet, title)])
        for text in texts:
            sheet.append([safe_text(text)])
        sheet.append([])
    heads = (_("Check"), _("Papers"), _("Journal"), _("Difference"), _("Holds"))
    sheet.append([_head(sheet, head) for head in heads])
    cells = _cells(sheet, TIE)
    for tie in figures.ties:
        holds = _("yes") if tie.holds else _("NO")
        row = (str(TIES[tie.key]), tie.papers, tie.journal, tie.difference, holds)
        sheet.append(_filled(cells, TIE, row))


def _sections(figures: Figures, by, at: datetime) -> Iterable[tuple[str, list[str]]]:
    month, shop = figures.month, ShopProfile.objects.first()
    title = _("Books of %(month)s") % {"month": month_name(month)}
    who = words.person(by) if by else _("the command line")
    told = [
        shop.name if shop else "",
        _("From %(first)s through %(last)s, in %(currency)s.")
        % {"first": day(month.first), "last": day(month.last), "currency": settings.CURRENCY},
        _("Made by %(person)s, %(moment)s.") % {"person": who, "moment": moment(at)},
        _("Documents through the month's end that are not in the journal yet: %(count)d.")
        % {"count": figures.pending},
    ]
    yield title, [text for text in told if text]
    yield _("What this book assumes"), [str(text) for text in ASSUMPTIONS]
