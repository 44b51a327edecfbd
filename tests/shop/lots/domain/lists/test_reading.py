"""One trait of a bad layout a test: what each row of a list ends as."""

from datetime import date
from decimal import Decimal

import pytest
from django.core.files.base import ContentFile

from shop.lots.domain.lists.reading import read_list
from shop.lots.domain.lists.source import LINE, NOT_LINE, QUESTION
from tests.shop.lots.domain.lists.layouts import catalogue, read, workbook
from units.sheets.services import read_tables

HEAD = ["Model", "Qty", "Serial", "Hours", "Condition"]


def rows_of(*rows, **more):
    return read(workbook(rows, **more)).rows


def lines_of(*rows, **more):
    return [row.draft for row in rows_of(*rows, **more) if row.fate == LINE]


def test_titles_headings_sections_blanks_totals_and_notes_are_known_for_what_they_are():
    rows = rows_of(
        ["Millrace Athletic"],
        [],
        HEAD,
        ["TREADMILLS"],
        ["HG 7100", 2],
        ["----", "--"],
        ["HG 7250", 1],
        HEAD,
        ["OM9500", 1],
        ["Total", 4],
        ["All machines must be gone by the end of the month, please."],
    )
    assert [(row.fate, row.reason) for row in rows] == [
        (NOT_LINE, "title"),
        (NOT_LINE, "blank"),
        (NOT_LINE, "heading"),
        (NOT_LINE, "section"),
        (LINE, ""),
        (NOT_LINE, "blank"),
        (LINE, ""),
        (NOT_LINE, "heading"),
        (LINE, ""),
        (NOT_LINE, "total"),
        (NOT_LINE, "note"),
    ]


def test_every_line_knows_its_sheet_row_and_cell():
    book = workbook(
        [HEAD, ["HG 7100", 1]], [[None, *HEAD], [None, "KR 8", 1]], names=["Up", "Down"]
    )
    lines = read(book).of(LINE)
    assert [(row.sheet, row.row, row.draft.ref) for row in lines] == [
        ("Up", 2, "A2"),
        ("Down", 2, "B2"),
    ]


def test_the_cells_of_a_line_become_its_facts():
    (draft,) = lines_of(
        HEAD, ["Holmgate HG 7100", "2 ea", "ML100200 / ML100201", "3,412 h", "dusty"]
    )
    assert (draft.candidates[0].model.number, draft.sure) == ("HG 7100", True)
    assert (draft.count, draft.serials, draft.hours, draft.note) == (
        2,
        ("ML100200", "ML100201"),
        3412,
        "dusty",
    )


def test_a_model_split_over_two_columns_is_put_together():
    rows = [
        ["Brand", "Series", "No", "Qty"],
        ["Holmgate", "HG", 7100, 1],
        ["Kestrow", "KS", 40, 3],
        ["Ostramill", "OM", 9500, 2],
        ["Corvane", "T", 420, 1],
    ]
    drafts = lines_of(*rows)
    assert [draft.candidates[0].model.number for draft in drafts] == [
        "HG 7100",
        "KS 40",
        "OM9500",
        "T-420",
    ]
    assert [draft.count for draft in drafts] == [1, 3, 2, 1]


def test_a_maker_merged_over_several_rows_holds_for_each():
    rows = [
        ["Maker", "Number", "Qty"],
        ["Holmgate", "7100", 1],
        [None, "7250", 1],
        [None, "5100", 2],
    ]
    drafts = lines_of(*rows, merge=["A2:A4"])
    assert [draft.candidates[0].model.number for draft in drafts] == [
        "HG 7100",
        "HG 7250",
        "HG 5100",
    ]
    assert {draft.maker for draft in drafts} == {"Holmgate"}


def test_one_count_merged_over_several_rows_is_asked_about():
    rows = [["Model", "Qty"], ["HG 7100", 3], ["HG 7250", None]]
    found = rows_of(*rows, merge=["B2:B3"])
    assert [row.doubts[0].code for row in found if row.fate == QUESTION] == ["merged-count"] * 2


def test_serials_in_one_cell_are_the_count():
    (draft,) = lines_of(["Model", "Serial"], ["HG 7100", "ML100200, ML100201, ML100202"])
    assert draft.count == 3


def test_serials_on_the_next_row_go_on_with_the_line_above():
    rows = rows_of(["Model", "Qty", "Serial"], ["HG 7100", 2, "ML100200"], [None, None, "ML100201"])
    assert rows[1].draft.serials == ("ML100200", "ML100201")
    assert (rows[1].fate, rows[2].reason) == (LINE, "continues")


def test_a_run_of_serials_counts_where_the_count_agrees_and_is_asked_about_where_not():
    rows = rows_of(
        HEAD,
        ["HG 7100", 3, "RT-1001 to RT-1003"],
        ["HG 7250", 3, "RT-2001 to RT-2004"],
        ["KR 8", None, "RT-3001 to RT-3004"],
    )
    assert rows[1].draft.serials == ("RT-1001", "RT-1002", "RT-1003")
    assert rows[1].draft.sure
    (wrong,), (alone,) = rows[2].doubts, rows[3].doubts
    assert (wrong.code, wrong.named) == ("serials", {"count": "3", "serials": "4"})
    assert (alone.code, alone.named["serials"], rows[3].draft.count) == ("run", "4", 4)


def test_a_count_that_contradicts_the_serials_is_a_question():
    (row,) = read(workbook([HEAD, ["HG 7100", 3, "ML100200 / ML100201"]])).of(QUESTION)
    assert [(doubt.code, doubt.ref) for doubt in row.doubts] == [("serials", "B2")]


def test_hours_and_days_in_one_column_are_told_apart():
    rows = [
        HEAD,
        ["HG 7100", 1, None, "3412 h"],
        ["HG 7250", 1, None, date(2017, 5, 2)],
        ["OM9500", 1, None, "bought 2016"],
        ["KR 8", 1, None, 2015],
    ]
    found = rows_of(*rows)
    assert [(row.draft.hours, row.draft.year) for row in found if row.fate == LINE] == [
        (3412, None),
        (None, 2017),
        (None, 2016),
    ]
    assert [row.doubts[0].code for row in found if row.fate == QUESTION] == ["hours-or-year"]


def test_hours_in_a_column_of_years_are_hours_and_nothing_in_it_is_lost():
    rows = rows_of(
        ["Model", "Bought"],
        ["HG 7100", "8,210"],
        ["HG 7250", "3k"],
        ["KR 8", "12 h"],
        ["OM9500", date(2018, 5, 1)],
        ["KS 44", "5,120"],
        ["KS 50M", "2019"],
        ["KE 14", "9"],
    )
    assert [row.draft.hours for row in rows[1:4]] == [8210, 3000, 12]
    assert (rows[4].draft.year, rows[4].fate) == (2018, LINE)
    assert [doubt.code for doubt in rows[6].doubts] == ["hours-or-year"]
    assert (rows[7].draft.hours, rows[7].draft.note) == (None, "9")


def test_a_year_in_a_column_of_years_is_no_question():
    (line,) = lines_of(["Model", "Year"], ["HG 7100", "2016"])
    assert (line.year, line.hours) == (2016, None)


def test_a_number_like_a_year_among_hours_alone_is_hours():
    drafts = lines_of(HEAD, ["HG 7100", 1, None, 3412], ["HG 7250", 1, None, 2015])
    assert [draft.hours for draft in drafts] == [3412, 2015]


@pytest.mark.parametrize(
    ("row", "goods", "quantity", "measure", "pieces"),
    [
        (["Bumper plates approx 600 lb", None], "plates", 600, "lb", None),
        (["45 lb iron plates", 20], "plates", 900, "lb", 20),
        (["Dumbbells 5-50 lb", "2 sets"], "dumbbells", 2, "set", None),
        (["Flat bench", "3 pcs"], "benches", 3, "piece", 3),
        (["dumbbell rack", 1], "racks", 1, "piece", 1),
        (["Rubber flooring", "1,200 sq ft"], "flooring", 1200, "sqft", None),
    ],
)
def test_goods_without_serials_are_lines_by_their_measure(row, goods, quantity, measure, pieces):
    draft = next(one for one in lines_of(["Item", "Qty"], ["HG 7100", 1], row) if one.goods)
    assert (draft.goods, draft.quantity, draft.measure, draft.pieces) == (
        goods,
        Decimal(quantity),
        measure,
        pieces,
    )


def test_goods_that_are_worth_their_mass_are_asked_for_it():
    (row,) = read(workbook([["Item", "Qty"], ["HG 7100", 1], ["Bumper plates", 14]])).of(QUESTION)
    assert row.doubts[0].code == "mass"


def test_goods_that_are_worth_what_they_cover_are_asked_for_it():
    (row,) = rows_of(["Item", "Qty"], ["rubber mats 4x6", 30])[1:]
    assert [doubt.code for doubt in row.doubts] == ["area"]


def test_a_column_headed_unit_is_the_measure_where_measures_stand_in_it():
    plates, mats, bench, iron = lines_of(
        ["Item", "Amount", "Unit"],
        ["Bumper plates assorted", "1,400", "lbs"],
        ["rubber mats", 240, "sq ft"],
        ["adjustable benches", 5, "ea"],
        ["Iron plates 45 lb", 22, "pcs"],
    )
    assert (plates.text, plates.measure, plates.quantity) == ("Bumper plates assorted", "lb", 1400)
    assert (mats.measure, mats.quantity) == ("sqft", 240)
    assert (bench.goods, bench.quantity) == ("benches", 5)
    assert (iron.measure, iron.quantity, iron.pieces) == ("lb", 990, 22)


@pytest.mark.parametrize("words", ["bikes total", "treadmills subtotal", "GRAND TOTAL CARDIO"])
def test_sums_are_known_by_their_words_wherever_those_stand(words):
    rows = rows_of(HEAD, ["HG 7100", 2], ["HG 7250", 1], [words, 45])
    assert (rows[-1].fate, rows[-1].reason) == (NOT_LINE, "total")


def test_a_bench_press_is_a_machine_where_the_catalogue_says_so():
    (draft,) = lines_of(["Item", "Qty"], ["Dunmarrow DM-210 chest press bench", 1])
    assert draft.sort == "machine"


def test_a_model_nobody_knows_is_taken_as_typed():
    (draft,) = lines_of(HEAD, ["Holmgate HG 8888 treadmill", 1])
    assert (draft.maker, draft.number, draft.kind, draft.sure) == (
        "Holmgate",
        "HG 8888",
        "treadmill",
        False,
    )


def test_what_names_neither_machine_nor_goods_is_a_question_with_its_cell():
    (row,) = read(workbook([HEAD, ["HG 7100", 1], ["the thing by the door", 1]])).of(QUESTION)
    assert [(doubt.code, doubt.ref) for doubt in row.doubts] == [("what", "A3")]


def test_figures_without_a_name_are_a_question_unless_they_are_the_sum():
    rows = rows_of(HEAD, ["HG 7100", 2], ["HG 7250", 1], [None, 3], [None, 8])
    assert (rows[3].reason, rows[4].doubts[0].code) == ("total", "nameless")


def test_marks_of_repetition_say_what_stands_above():
    drafts = lines_of(["Maker", "Model", "Qty"], ["Holmgate", "HG 7100", 1], ['"', "HG 7250", 1])
    assert [draft.candidates[0].model.number for draft in drafts] == ["HG 7100", "HG 7250"]
    assert drafts[1].maker == "Holmgate"


def test_headings_in_words_that_nobody_knows_are_found_by_what_stands_below():
    rows = [
        ["Gerät", "Stück", "Seriennr."],
        ["Holmgate HG 7100", "2", "ML100200, ML100201"],
        ["Kestrow KR 8", "1", "ML100300"],
        ["Ostramill OM9500", "1", "ML100400"],
    ]
    found = rows_of(*rows)
    assert [row.reason for row in found] == ["heading", "", "", ""]
    assert [(row.draft.count, len(row.draft.serials)) for row in found[1:]] == [
        (2, 2),
        (1, 1),
        (1, 1),
    ]


def test_a_pasted_list_without_columns_is_read_line_by_line():
    text = b"3 Kestrow KS 40 indoor cycles\nKS44 spin bike\n\ntwo rowers\n1 x HG 7100\n"
    lines = read(text, "pasted.txt").of(LINE)
    assert [(row.draft.kind, row.draft.count) for row in lines] == [
        ("indoor-cycle", 3),
        ("indoor-cycle", 1),
        ("rower", 2),
        ("treadmill", 1),
    ]


def test_a_person_may_say_what_a_column_holds():
    rows = [["Model", "A", "B"], ["HG 7100", 2, 3], ["HG 7250", 1, 4]]
    tables = read_tables(ContentFile(workbook(rows), name="list.xlsx"))
    reading = read_list(tables, catalogue(), {("Sheet1", 1): {1: "aside", 2: "count"}})
    assert [row.draft.count for row in reading.of(LINE)] == [3, 4]
    assert reading.parts[0].layout.columns[2].confidence == 1.0


def test_the_reading_tells_how_far_it_is():
    book = workbook([HEAD, *[["HG 7100", 1]] * 120])
    tables = read_tables(ContentFile(book, name="list.xlsx"))
    told = []
    read_list(tables, catalogue(), told=lambda done, total: told.append((done, total)))
    assert told == [(50, 121), (100, 121)]
