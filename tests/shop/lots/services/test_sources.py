import io
import zipfile

import pytest
from django.core.files.base import ContentFile
from django_tasks_db.models import DBTaskResult

from shop.lots.models import Lot, LotLine, LotSource, SourceRow
from shop.lots.services import (
    LotError,
    add_pasted,
    add_source,
    choose_columns,
    confirm_sure,
    queue_reading,
    read_again,
)
from shop.lots.services.recovering import take_up_lists
from shop.lots.services.sources import begin_reading
from shop.lots.services.tasks import read_now, read_source
from tests.factories.units import MORNING
from tests.shop.lots.domain.lists.layouts import workbook
from tests.shop.lots.lots import HEAD, a_list, a_lot, act, an_agreed_lot, models

pytestmark = pytest.mark.django_db


def test_every_row_ends_as_a_line_as_none_or_as_a_question_and_lines_remember_their_cell():
    models()
    source = a_list(["HG 7100", 2, "ML100200, ML100201"], [], ["the thing", 1], ["Total", 3])
    rows = source.rows.values_list("sheet", "row", "fate", "reason")
    assert list(rows) == [
        ("Sheet1", 1, "not-line", "heading"),
        ("Sheet1", 2, "line", ""),
        ("Sheet1", 3, "not-line", "blank"),
        ("Sheet1", 4, "question", ""),
        ("Sheet1", 5, "not-line", "total"),
    ]
    line = LotLine.objects.get(row__row=2)
    assert (line.row.sheet, line.ref, line.sure, str(line.model)) == (
        "Sheet1", "A2", True, "Holmgate HG 7100",
    )  # fmt: skip
    assert (line.count, line.serials) == (2, ["ML100200", "ML100201"])


def test_the_file_is_kept_as_it_came_and_once():
    lot, content = a_lot(), workbook([HEAD, ["HG 7100", 1]])
    upload = ContentFile(content, name="list.xlsx")
    first = add_source(lot=lot, upload=upload, **act())
    assert add_source(lot=lot, upload=upload, **act()) == first
    assert bytes(LotSource.objects.get().content) == content


def test_only_the_size_is_looked_at_before_the_worker_reads():
    source = add_source(lot=a_lot(), upload=ContentFile(b"a,b\n1,2\n", name="l.csv"), **act())
    assert (source.state, source.rows.count()) == ("waiting", 0)
    with pytest.raises(LotError, match="damaged"):
        add_source(lot=a_lot(), upload=ContentFile(b"PK\x03\x04cut", name="l.xlsx"), **act())


def test_the_task_reads_a_waiting_list_once():
    source = add_source(lot=a_lot(), upload=ContentFile(b"KR 8\nHG 7100\n", name="l.csv"), **act())
    read_source.func(str(source.pk))
    source.refresh_from_db()
    assert (source.state, source.rows_done) == (LotSource.State.READ, 2)
    read_source.func(str(source.pk))
    assert source.rows.count() == 2


def test_a_list_that_waits_is_queued_with_the_transaction_that_made_it():
    source = add_source(lot=a_lot(), upload=ContentFile(b"KR 8\n", name="l.csv"), **act())
    queue_reading(source)
    assert DBTaskResult.objects.filter(task_path__endswith="read_source").count() == 1


@pytest.mark.parametrize(
    ("content", "name", "sentence"),
    [
        (b"\x00\x01\x02\x03" * 50, "photo.xlsx", "no spreadsheet"),
        (b"\n\n ,, \n", "empty.csv", "no filled row"),
    ],
)
def test_what_cannot_be_read_says_why_and_leaves_no_line(content, name, sentence):
    source = a_list(content=content, name=name)
    assert source.state == LotSource.State.UNREAD
    assert sentence in source.trouble
    assert LotLine.objects.count() == 0


def test_a_damaged_workbook_is_not_read_and_says_so():
    whole = workbook([HEAD, ["HG 7100", 1]])
    broken = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(whole)) as old, zipfile.ZipFile(broken, "w") as new:
        for part in old.namelist():
            content = b"<broken" if part.startswith("xl/worksheets") else old.read(part)
            new.writestr(part, content)
    source = a_list(content=broken.getvalue())
    assert (source.state, "Save it again" in source.trouble) == ("unread", True)


def test_a_pasted_text_is_a_list_too():
    models()
    lot = a_lot()
    source = add_pasted(lot=lot, text="3 Kestrow KR 8 rowers\nHG 7100 treadmill\n", **act())
    read_now(begin_reading(pk=source.pk, at=MORNING), at=MORNING)
    lines = LotLine.objects.values_list("model__number", "count", "sure")
    assert list(lines) == [("KR 8", 3, True), ("HG 7100", 1, True)]
    with pytest.raises(LotError, match="Nothing was pasted"):
        add_pasted(lot=lot, text="  ", **act())


def test_columns_chosen_by_a_person_are_read_anew_and_what_was_settled_stays():
    models()
    source = a_list(["HG 7100", 1, 5], ["HG 7250", "a few", 6], head=["Model", "Qty", "Other"])
    confirm_sure(lot=source.lot, **act())
    choose_columns(source=source, roles={"Sheet1|1": {"1": "aside", "2": "count"}}, **act())
    read_now(begin_reading(pk=source.pk, at=MORNING), at=MORNING)
    lines = LotLine.objects.order_by("row__row").values_list("state", "count")
    assert list(lines) == [("confirmed", 1), ("proposed", 6)]
    assert SourceRow.objects.count() == 3


def test_a_column_takes_only_a_role_there_is():
    source = a_list(["HG 7100", 1])
    with pytest.raises(LotError, match="cannot hold"):
        choose_columns(source=source, roles={"Sheet1|1": {"1": "magic"}}, **act())


def test_no_list_is_added_once_a_price_hangs_on_the_lot():
    with pytest.raises(LotError, match="no longer"):
        add_source(lot=an_agreed_lot(), upload=ContentFile(b"KR 8\n", name="l.csv"), **act())


def test_a_list_that_was_read_while_the_price_was_agreed_changes_nothing():
    lot = an_agreed_lot()
    Lot.objects.filter(pk=lot.pk).update(state="listed")
    source = add_source(lot=lot, upload=ContentFile(b"KR 8\n", name="l.csv"), **act())
    Lot.objects.filter(pk=lot.pk).update(state="agreed")
    read_now(begin_reading(pk=source.pk, at=MORNING), at=MORNING)
    source.refresh_from_db()
    assert (source.state, source.rows.count()) == ("unread", 0)


def test_a_list_that_a_stopped_worker_left_is_given_up_and_can_be_read_again():
    models()
    source = a_list(["HG 7100", 1])
    LotSource.objects.update(state="reading")
    assert take_up_lists(at=MORNING) == (1, 0)
    source.refresh_from_db()
    assert (source.state, "was stopped" in source.trouble) == ("unread", True)
    assert read_again(source=source, **act()).state == "waiting"
    assert take_up_lists(at=MORNING) == (0, 1)
    assert take_up_lists(at=MORNING) == (0, 0)


def test_a_list_that_is_being_read_is_not_begun_twice():
    source = a_list(["HG 7100", 1])
    source.state = "reading"
    with pytest.raises(LotError, match="being read"):
        read_again(source=source, **act())
