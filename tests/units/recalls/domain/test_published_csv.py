from datetime import date

import pytest

from tests.units.recalls.ground import as_csv, row
from units.recalls.domain.published_csv import HEADINGS, read_csv
from units.recalls.domain.texts import RecallFileError


def read(*rows, newline="\n"):
    return read_csv(as_csv(*rows, newline=newline).decode())


def refusal(text: str) -> str:
    with pytest.raises(RecallFileError) as caught:
        read_csv(text)
    return str(caught.value)


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
def test_a_line_break_inside_quotes_is_part_of_the_text(newline):
    notices = read(row("1", text="Model TR-90\nand TR-95"), row("2"), newline=newline)
    assert [one.key for one in notices] == ["1", "2"]
    assert notices[0].description == "Model TR-90\nand TR-95"


def test_parties_are_parted():
    (notice,) = read(row(Importers="Kestrow; Holmgate Inc.", Distributors="Pellworth\nOstramill"))
    assert notice.parties[1:] == ("Kestrow", "Holmgate Inc.", "Pellworth", "Ostramill")


def test_a_warning_goes_by_its_own_number_and_day():
    (notice,) = read(
        row("", **{"Product Safety Warning Number": "24-102",
                   "Product Safety Warning Date": "January 15, 2024"})
    )  # fmt: skip
    assert (notice.key, notice.announced_on) == ("24102", date(2024, 1, 15))


def test_empty_lines_are_passed_over():
    assert len(read_csv(as_csv(row()).decode() + "\n,,\n\n")) == 1


def test_a_row_cut_inside_quotes_names_the_line_where_it_begins():
    text = as_csv(row("1", text='a "quoted"\nword'), row("2", text="two\nlines, and more")).decode()
    assert "begins in line 4" in refusal(text[: text.index(", and more")])


def test_a_row_with_too_few_cells_names_its_line():
    text = as_csv(row("1"), row("2")).decode()
    assert "begins in line 3" in refusal(text[: text.rindex("About")])


def test_a_heading_that_is_missing_is_named():
    text = as_csv(row()).decode().replace("Recall Heading", "Heading", 1)
    assert "lacks the heading “Recall Heading”" in refusal(text)


def test_a_row_without_a_number_names_its_line():
    assert refusal(as_csv(row("1"), row("none")).decode()) == (
        "The row that begins in line 3 has no recall number."
    )


def test_a_day_that_is_none_names_its_line():
    assert "line 2 gives “30/07/26” as its day" in refusal(as_csv(row(Date="30/07/26")).decode())


def test_a_cell_past_any_notice_is_refused():
    assert "begins in line 2" in refusal(as_csv(row(text="x" * 1_000_001)).decode())


def test_headings_may_stand_in_other_capitals():
    text = as_csv(row()).decode()
    first = ",".join(HEADINGS)
    assert read_csv(text.replace(first, first.upper()))[0].key == "26645"
