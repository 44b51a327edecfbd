import io
import json

import pytest
from django.core.management import CommandError, call_command
from openpyxl import Workbook

from tests.shop.lots.valuing.building import treadmill

pytestmark = pytest.mark.django_db


@pytest.fixture
def listed(tmp_path):
    """A seller's list in a bad layout: a title, a total, goods on a sheet of their own."""
    treadmill()
    book = Workbook()
    sheet = book.active
    sheet.title = "Floor"
    for row in (
        ["Millrace Athletic, everything must go"],
        [],
        ["Brand", "Model", "How many", "Remarks"],
        ["Corvane", "T-900", "3 ea", "works"],
        ["Corvane", "T-900", 1, "dead"],
        [None, "TOTAL", 4, None],
    ):
        sheet.append(row)
    weights = book.create_sheet("Weights")
    weights.append(["Item", "Qty"])
    weights.append(["Rubber plates", "900 lb"])
    weights.append(["gadget", 2])
    path = tmp_path / "list.xlsx"
    book.save(path)
    return path


def told(path, *more):
    out = io.StringIO()
    call_command("valuelot", str(path), "--json", "--draws", "1000", *more, stdout=out)
    return json.loads(out.getvalue())


def test_a_list_never_seen_before_is_valued_as_it_reads(listed):
    found = told(listed, "--ask", "1500")
    wanted = {"source_rows", "lines", "not_lines", "questions", "most_to_pay", "break_even"}
    assert wanted | {"opening", "profit", "calls_first", "seconds"} <= found.keys()
    assert found["source_rows"] == found["lines"] + found["not_lines"] + found["questions"]
    assert (found["machines_valued"], found["not_run"]) == (4, 1)
    assert found["profit"].keys() == {"p10", "p50", "p90"}
    assert found["price"] == 1500
    assert {"model", "worth", "minutes"} <= found["calls_first"][0].keys()
    assert "gadget" in str(found["asked"])


def test_one_seed_gives_the_same_figures_and_another_others(listed):
    first, second, other = told(listed), told(listed), told(listed, "--seed", "2")
    for one in (first, second, other):
        del one["seconds"]
    assert first == second
    assert first["break_even"] != other["break_even"]


def test_in_sentences_it_says_that_the_odds_are_stated_ones(listed):
    out = io.StringIO()
    call_command("valuelot", str(listed), "--draws", "1000", stdout=out)
    assert "Most to pay: $" in out.getvalue()
    assert "All odds are still stated ones" in out.getvalue()
    assert "Not valued: gadget" in out.getvalue()


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (["--ask", "-1"], "below nothing"),
        (["--draws", "10"], "draws"),
        (["--steps", "-1"], "not below nothing"),
    ],
)
def test_a_wrong_figure_ends_with_a_sentence(listed, more, said):
    with pytest.raises(CommandError, match=said):
        call_command("valuelot", str(listed), *more)


def test_a_file_that_is_no_list_ends_with_a_sentence(listed, tmp_path):
    broken = tmp_path / "broken.xlsx"
    broken.write_bytes(b"PK\x03\x04 no workbook")
    with pytest.raises(CommandError, match="damaged"):
        call_command("valuelot", str(broken))
    with pytest.raises(CommandError, match="cannot be opened"):
        call_command("valuelot", str(tmp_path / "nowhere.xlsx"))


def test_without_kinds_of_machine_it_says_what_to_run(tmp_path):
    path = tmp_path / "list.csv"
    path.write_text("Model;Qty\nT-900;3\n")
    with pytest.raises(CommandError, match="loadreference"):
        call_command("valuelot", str(path))
