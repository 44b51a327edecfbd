import json
from datetime import date

import pytest

from tests.units.recalls.ground import as_json, record
from units.recalls.domain.notice import Product
from units.recalls.domain.published_json import read_json
from units.recalls.domain.texts import RecallFileError


def read(*records):
    return read_json(as_json(*records).decode())


def refusal(text: str) -> str:
    with pytest.raises(RecallFileError) as caught:
        read_json(text)
    return str(caught.value)


def test_every_part_of_a_record_is_kept():
    (notice,) = read(record())
    assert notice.title == "Corvane Recalls Treadmills Due to Fall Hazard"
    assert notice.announced_on == date(2026, 7, 30)
    assert notice.url == "https://recalls.example/2026/corvane-treadmills"
    assert notice.parties == ("Corvane Fitness Inc., of Aldermere",)
    assert notice.hazard == "The belt can start by itself."
    assert notice.remedy == "Stop using it and ask for a free repair.\nRepair"
    assert notice.contact == "Corvane at 202-555-0142 from 9 a.m. to 5 p.m."
    assert notice.products[0].units == "About 19,900 (In addition, about 17 in Canada)"


def test_importers_and_distributors_are_parties_too():
    (notice,) = read(record(Importers=[{"Name": "Kestrow"}], Distributors=[{"Name": "Holmgate"}]))
    assert notice.parties[1:] == ("Kestrow", "Holmgate")


@pytest.mark.parametrize(
    "shape",
    [
        lambda one: one,
        lambda one: [one],
        lambda one: {"Recalls": [one]},
        lambda one: {"ArrayOfRecall": {"Recall": one}},
    ],
)
def test_one_record_is_read_however_it_is_wrapped(shape):
    assert [one.key for one in read_json(json.dumps(shape(record())))] == ["26645"]


@pytest.mark.parametrize(
    "products",
    [
        [{"Name": "treadmill"}],
        {"Name": "treadmill", "Model": ""},
        {"Product": {"Name": "treadmill"}},
        {"Product": [{"Name": "treadmill"}]},
    ],
)
def test_products_are_read_however_they_are_nested(products):
    (notice,) = read(record(Products=products))
    assert notice.products == (Product("treadmill"),)


@pytest.mark.parametrize("nothing", [None, [], "", {}])
def test_lists_that_hold_nothing_hold_nothing(nothing):
    (notice,) = read(record(Manufacturers=nothing, Hazards=nothing, Remedies=nothing))
    assert (notice.parties, notice.hazard) == ((), "")


def test_a_number_that_is_no_text_is_a_number():
    assert read(record(number=26645))[0].key == "26645"


def test_markup_becomes_lines_and_blanks():
    (notice,) = read(record(text="<p>Model&nbsp;TR-90</p><p>and <b>TR-95</b></p>\x00"))
    assert notice.description == "Model TR-90\nand TR-95"


def test_text_that_looks_like_a_formula_stays_text():
    assert read(record(Title='=HYPERLINK("x")'))[0].title == '=HYPERLINK("x")'


def test_an_address_that_is_no_web_address_is_left_out():
    assert read(record(URL="javascript:alert(1)"))[0].url == ""


@pytest.mark.parametrize("part", [0.1, 0.5, 0.999])
def test_a_file_cut_off_names_the_line_where_it_ends(part):
    text = as_json(*(record(str(number)) for number in range(100, 130))).decode()
    cut = text[: int(len(text) * part)]
    assert f"at line {cut.count(chr(10)) + 1}, character" in refusal(cut)


def test_the_error_of_the_agencys_server_is_told():
    answer = [{"RecallID": 0, "Title": "Error retrieving Recalls: a timeout"}]
    said = refusal(json.dumps(answer))
    assert "answered with an error" in said
    assert "a timeout" in said


@pytest.mark.parametrize("number", ["", None, "none yet", "1" * 61])
def test_a_record_without_a_number_is_named(number):
    said = refusal(as_json(record("1"), record(number=number)).decode())
    assert said.startswith("Record 2 of the file")
    assert "has no recall number" in said


@pytest.mark.parametrize("day", ["30.07.2026", "2026-13-01", "soon"])
def test_a_day_that_is_none_is_named(day):
    for key in ("RecallDate", "LastPublishDate"):
        assert f"“{day}” as its day" in refusal(as_json(record(**{key: day})).decode())


def test_a_record_without_a_day_is_read():
    assert read(record(RecallDate=None))[0].announced_on is None


def test_the_day_of_the_wording_is_read():
    (notice,) = read(record(LastPublishDate="2026-08-02T10:15:00"))
    assert notice.published_on == date(2026, 8, 2)
    assert read(record(LastPublishDate=None))[0].published_on is None


@pytest.mark.parametrize("text", ['{"a": 1, "b": 2}', "{}"])
def test_json_that_is_no_list_of_recalls_is_refused(text):
    assert "no list of recalls" in refusal(text)


def test_a_record_that_is_no_object_is_named():
    assert refusal("[1]") == "Record 1 of the file is no recall notice."


@pytest.mark.parametrize("text", ["[" * 100_000, '[{"RecallID": ' + "9" * 5000 + "}]"])
def test_json_made_to_break_a_reader_is_refused(text):
    assert "damaged" in refusal(text)
