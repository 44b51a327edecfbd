"""Price lists as a supplier sends them."""

from io import BytesIO

from django.core.files.uploadedfile import SimpleUploadedFile
from openpyxl import Workbook

HEADINGS = ("Item no.", "Description", "Brand", "Dealer price", "Lead time (days)", "Stock")
BELT = ("CV-100", "Running belt 3000 x 510", "Corvane", 62.5, 4, "yes")
DECK = ("CV-200", "Deck, two-sided", "Corvane", 118, 9, "back order")


def csv_list(*rows, headings=HEADINGS, name="prices.csv") -> SimpleUploadedFile:
    lines = (";".join(map(str, row)) for row in (headings, *rows))
    return SimpleUploadedFile(name, "\n".join(lines).encode())


def workbook(*rows, headings=HEADINGS, sheets=1, name="prices.xlsx") -> SimpleUploadedFile:
    """The rows on the last sheet; every other holds a greeting."""
    book = Workbook()
    for number in range(1, sheets):
        page = book.active if number == 1 else book.create_sheet()
        page.append(["Dear customer,"])
    page = book.active if sheets == 1 else book.create_sheet("Prices")
    page.append(["Kestrow spares: prices"])
    page.append(list(headings))
    for row in rows:
        page.append(list(row))
    out = BytesIO()
    book.save(out)
    return SimpleUploadedFile(name, out.getvalue())
