from datetime import date

import pytest

from tests.units.recalls.ground import as_csv, as_json, record, row
from units.recalls.domain import reading
from units.recalls.domain.notice import Product
from units.recalls.domain.reading import read_notices
from units.recalls.domain.texts import RecallFileError


def refusal(content: bytes) -> str:
    with pytest.raises(RecallFileError) as caught:
        read_notices(content)
    return str(caught.value)


def test_a_bare_array_is_read_in_its_order():
    assert [one.number for one in read_notices(as_json(record("1"), record("2")))] == ["1", "2"]


def test_the_csv_listing_is_read():
    (notice,) = read_notices(as_csv(row()))
    assert (notice.key, notice.announced_on) == ("26645", date(2026, 7, 30))
    assert notice.products == (Product("Corvane treadmills", units="About 19,900"),)


def test_a_byte_order_mark_is_no_part_of_the_first_heading():
    assert read_notices(b"\xef\xbb\xbf" + as_csv(row()))[0].key == "26645"
    assert read_notices(b"\xef\xbb\xbf" + as_json(record()))[0].key == "26645"


def test_utf_16_with_its_mark_is_read():
    assert read_notices(as_json(record()).decode().encode("utf-16"))[0].key == "26645"


def test_two_records_under_one_number_are_one_notice_that_says_both():
    content = as_json(record("18-764"), record("18764", text="Model TR-99 as well."))
    (notice,) = read_notices(content)
    assert "TR-90" in notice.description
    assert "TR-99" in notice.description


def test_the_same_record_twice_is_one_notice():
    twice = read_notices(as_json(record(), record()))
    assert twice == read_notices(as_json(record()))


@pytest.mark.parametrize("content", [b"", b" \n ", b"\xef\xbb\xbf"])
def test_an_empty_file_is_refused(content):
    assert refusal(content) == "The file is empty. Download the list again."


@pytest.mark.parametrize("content", [b"[]", as_csv()])
def test_a_list_without_a_notice_is_refused(content):
    assert refusal(content) == "The file holds no recall notice."


def test_another_text_is_refused():
    assert "neither the JSON nor the CSV" in refusal(b"Dear customer,\nno list today.")


def test_another_encoding_is_refused_with_its_line():
    content = as_csv(row(text="caf\u00e9")).decode().encode("cp1252")
    assert "Line 2 holds bytes that are no UTF-8 text" in refusal(content)


def test_a_file_past_the_largest_size_is_refused(monkeypatch):
    monkeypatch.setattr(reading, "MOST_BYTES", 2_000_000)
    assert "more than 2 MB" in refusal(b"[" * 2_000_001)
