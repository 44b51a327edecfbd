from datetime import timedelta
from io import StringIO

import pytest
from django.core.management import CommandError, call_command
from django.utils import timezone
from openpyxl import load_workbook

from shop.books.domain.months import Month
from shop.books.models import Account, JournalEntry
from tests.factories.resale import OwnStayFactory

pytestmark = pytest.mark.django_db


def run(period, out):
    told, warned = StringIO(), StringIO()
    call_command("periodbook", str(period), out=str(out), stdout=told, stderr=warned)
    return told.getvalue(), warned.getvalue()


def test_it_writes_the_workbook_and_says_how_much_it_posted(last_month, tmp_path):
    told, warned = run(last_month, tmp_path / "book.xlsx")
    assert "book.xlsx is written; 10 documents posted." in told
    assert warned == ""
    assert "Journal" in load_workbook(tmp_path / "book.xlsx").sheetnames


def test_the_command_line_is_named_as_its_maker(last_month, tmp_path):
    run(last_month, tmp_path / "book.xlsx")
    rows = load_workbook(tmp_path / "book.xlsx")["Read me"].iter_rows(values_only=True)
    assert any("the command line" in str(row[0]) for row in rows)


def test_a_file_that_is_there_is_replaced_and_nothing_left_beside_it(last_month, tmp_path):
    path = tmp_path / "book.xlsx"
    path.write_text("an older one")
    run(last_month, path)
    assert "Journal" in load_workbook(path).sheetnames
    assert list(tmp_path.iterdir()) == [path]


def test_a_figure_that_does_not_tie_is_told(last_month, papers, tmp_path):
    papers.cost(last_month.last, OwnStayFactory(), "parts", "10.00")
    _told, warned = run(last_month, tmp_path / "book.xlsx")
    assert "This does not hold: Cost of the parts used" in warned
    assert "The difference is -10.00." in warned


@pytest.mark.parametrize("period", ["October", "2026-13", "2026/10", ""])
def test_what_is_no_month_is_refused_with_an_example(period, tmp_path):
    with pytest.raises(CommandError, match="is not a month") as refusal:
        run(period, tmp_path / "book.xlsx")
    assert refusal.value.returncode == 1


def test_a_month_to_come_is_refused_and_writes_nothing(tmp_path):
    ahead = Month.of(timezone.localdate() + timedelta(days=40))
    with pytest.raises(CommandError, match="still to come"):
        run(ahead, tmp_path / "book.xlsx")
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_does_not_exist_is_named(last_month, tmp_path):
    with pytest.raises(CommandError, match=r"nowhere.*cannot be written"):
        run(last_month, tmp_path / "nowhere" / "book.xlsx")
    assert not JournalEntry.objects.exists()


def test_a_folder_in_place_of_the_file_is_named(last_month, tmp_path):
    with pytest.raises(CommandError, match="it is a folder"):
        run(last_month, tmp_path)


def test_a_refusal_leaves_the_file_that_was_there(last_month, tmp_path):
    Account.objects.all().delete()
    path = tmp_path / "book.xlsx"
    path.write_text("an older one")
    with pytest.raises(CommandError, match="loadreference"):
        run(last_month, path)
    assert path.read_text() == "an older one"
    assert list(tmp_path.iterdir()) == [path]
