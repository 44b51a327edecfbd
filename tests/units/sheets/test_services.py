import io
import zipfile
from datetime import date
from decimal import Decimal

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from openpyxl import Workbook
from openpyxl.styles import Font

from units.sheets import services
from units.sheets.services import SheetRefusedError, check_sheet, read_tables


def upload(content, name="list.xlsx"):
    return SimpleUploadedFile(name, content)


def workbook(*rows):
    book = Workbook()
    for row in rows:
        book.active.append(row)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def values(table):
    return [[cell.value for cell in row.values()] for row in table.rows]


def test_a_workbook_gives_its_cells_with_their_addresses():
    rows = [["Part", None, "Price"], [None, None, None], ["44-210", date(2026, 3, 4), 19.99]]

    (table,) = read_tables(upload(workbook(*rows)))

    assert values(table) == [["Part", "Price"], ["44-210", date(2026, 3, 4), Decimal("19.99")]]
    assert [cell.ref for cell in table.rows[1].values()] == ["A3", "B3", "C3"]


@pytest.mark.parametrize("mark", [",", ";", "\t", "|"])
def test_text_is_parted_by_the_mark_that_stands_in_every_line(mark):
    lines = [mark.join(row) for row in (["Part", "Name"], ["44-210", "Belt 2.5"])]

    (table,) = read_tables(upload("\n".join(lines).encode(), "list.csv"))

    assert values(table) == [["Part", "Name"], ["44-210", "Belt 2.5"]]


def test_text_of_an_older_program_keeps_its_accents():
    (table,) = read_tables(upload("Teil;Stück\n1;zwölf".encode("cp1252"), "liste.csv"))

    assert values(table)[1] == ["1", "zwölf"]


def cut_off():
    return workbook(["a", "b"])[:400]


def bomb():
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/worksheets/sheet1.xml", b"0" * (services.MOST_UNZIPPED + 1))
    return out.getvalue()


def other_archive():
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr("hello.txt", "no workbook")
    return out.getvalue()


@pytest.mark.parametrize(
    ("content", "name"),
    [
        (cut_off, "cut.xlsx"),
        (bomb, "bomb.xlsx"),
        (other_archive, "other.xlsx"),
        (lambda: b"\xd0\xcf\x11\xe0" + b"\x00" * 100, "old.xls"),
        (lambda: b"", "empty.csv"),
        (lambda: b"\n\n ,, \n", "blank.csv"),
    ],
)
def test_a_file_that_cannot_be_read_gets_a_sentence_with_its_name(content, name):
    with pytest.raises(SheetRefusedError) as refused:
        read_tables(upload(content(), name))

    assert name in str(refused.value)


def test_only_filled_cells_of_a_workbook_are_counted(monkeypatch):
    monkeypatch.setattr(services, "MOST_CELLS", 6)
    assert len(read_tables(upload(workbook(*[[1, 2]] * 3)))[0].rows) == 3
    with pytest.raises(SheetRefusedError, match="more than 6 cells"):
        read_tables(upload(workbook(*[[1, 2]] * 4)))


def styled(count):
    book = Workbook()
    book.active.append(["Part"])
    for column in range(2, count + 1):
        book.active.cell(row=1, column=column).font = Font(bold=True)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


@pytest.mark.parametrize("block", [7, services.MILLION])
def test_the_cells_of_a_workbook_are_counted_before_it_is_opened(monkeypatch, block):
    monkeypatch.setattr(services, "MOST_CELLS", 6)
    monkeypatch.setattr(services, "MILLION", block)
    assert values(read_tables(upload(styled(6)))[0]) == [["Part"]]
    monkeypatch.setattr(services, "load_workbook", lambda *_args, **_more: pytest.fail("opened"))
    with pytest.raises(SheetRefusedError, match="more than 6 cells"):
        read_tables(upload(styled(7)))


def test_more_cells_than_a_list_may_have_are_not_kept(monkeypatch):
    monkeypatch.setattr(services, "MOST_CELLS", 10)

    with pytest.raises(SheetRefusedError):
        read_tables(upload(b"a,b,c\n" * 5, "long.csv"))


def test_a_table_knows_which_cells_are_merged():
    book = Workbook()
    book.create_sheet("Second")["C3"] = "KS 40"
    first = book.worksheets[0]
    first["A2"], first["B2"] = "Holmgate", "HG 7100"
    first.merge_cells("A2:A4")
    book["Second"].merge_cells("C3:E3")
    stream = io.BytesIO()
    book.save(stream)
    tables = read_tables(SimpleUploadedFile("list.xlsx", stream.getvalue()))
    assert [table.merged for table in tables] == [((2, 4, 0, 0),), ((3, 3, 2, 4),)]


def test_a_list_can_be_capped_before_it_is_read():
    small = SimpleUploadedFile("list.csv", b"a,b\n1,2\n")
    assert check_sheet(small) == b"a,b\n1,2\n"
    with pytest.raises(SheetRefusedError, match="damaged"):
        check_sheet(SimpleUploadedFile("list.xlsx", b"PK\x03\x04 cut off"))
