from decimal import Decimal

import pytest

from parts.buying.domain.pricelist import WANTED, Known, component_in, plain, sort_out
from units.sheets.domain.columns import Choice, Layout, Row, propose
from units.sheets.domain.table import Cell, Table

COMPONENTS = {
    "running-belt": "running belt",
    "drive-belt": "drive belt",
    "rollers": "rollers",
    "front-roller": "front roller",
    "deck": "deck",
}
LAYOUT = Layout(1, {one.name: Choice(place, 1.0) for place, one in enumerate(WANTED)})
KNOWN = Known(
    {"CV1": [("CORVANE", 11)], "CV2": [("CORVANE", 12), ("", 13)]},
    COMPONENTS,
)


def row(number="CV-9", row=2, **values):
    said = {"number": number, "name": "running belt 3000 x 510", "cost": Decimal("9.50")}
    return Row(row, said | values)


def read(*rows, maker=""):
    return sort_out(rows, LAYOUT, KNOWN, maker)


def test_a_known_number_is_its_part_whatever_its_name_says():
    (one,), faults = read(row("cv 1", name="", lead_days=4, availability="back order"))
    assert (one.part, one.cost, one.lead_days, one.status) == (
        11, Decimal("9.50"), 4, "back-ordered",
    )  # fmt: skip
    assert faults == []


def test_a_new_number_goes_where_its_name_says():
    (one,), _faults = read(row())
    assert (one.part, one.key, one.component) == (None, "CV9", "running-belt")


def test_the_column_of_components_outweighs_the_name():
    (one,), _faults = read(row(component="Decks"))
    assert one.component == "deck"


def test_the_makers_name_tells_two_parts_of_one_number_apart():
    (one,), _faults = read(row("CV-2", maker="Corvane"))
    assert one.part == 12


def test_the_maker_of_the_whole_sheet_stands_in_for_an_empty_cell():
    good, _faults = read(row("CV-2"), row("CV-3", row=3, maker="Holmgate"), maker="corvane")
    assert [(one.part, one.maker) for one in good] == [(12, "corvane"), (None, "Holmgate")]


@pytest.mark.parametrize(
    ("wrong", "ref", "words"),
    [
        (row("--"), "A2", "no part number"),
        (row("C" * 61), "A2", "too long"),
        (row(name="belt " * 30), "B2", "too long"),
        (row(cost=Decimal(-1)), "C2", "from 0 to a million"),
        (row(cost=Decimal(1_000_001)), "C2", "from 0 to a million"),
        (row("CV-2"), "D2", "Several makers"),
        (row(component="wing"), "E2", "No component is called"),
        (row(lead_days=731), "F2", "more than two years"),
        (row(availability="purple"), "G2", "does not say whether"),
        (row(name=""), "B2", "say what the part is called"),
        (row(name="thing", row=7), "B7", "tells no component"),
    ],
)
def test_a_bad_row_is_told_at_its_cell(wrong, ref, words):
    good, (fault,) = read(wrong)
    assert good == []
    assert fault.ref == ref
    assert words in fault.sentence
    assert fault.sentence % fault.named


def test_a_row_that_stands_twice_with_the_same_figures_is_one():
    good, faults = read(row(), row(row=3))
    assert ([one.row for one in good], faults) == ([2], [])


def test_a_row_that_stands_three_times_is_one():
    good, faults = read(row(), row(row=3), row(row=4))
    assert ([one.row for one in good], faults) == ([2], [])


def test_a_number_with_two_prices_is_told_at_the_second():
    good, (fault,) = read(row(), row(row=3, cost=Decimal(2)))
    assert [one.row for one in good] == [2]
    assert (fault.ref, "twice" in fault.sentence) == ("A3", True)


@pytest.mark.parametrize(
    ("text", "slug"),
    [
        ("Front roller, zinc", "front-roller"),
        ("Roller set", "rollers"),
        ("drive belt 200J6", "drive-belt"),
        ("DECKS", "deck"),
        ("upper decking", ""),
        ("", ""),
    ],
)
def test_the_longest_name_of_a_component_in_a_text_counts(text, slug):
    places = sorted(
        ((plain(name), slug) for slug, name in COMPONENTS.items()),
        key=lambda one: -len(one[0].split()),
    )
    assert component_in(text, places) == slug


def test_the_columns_of_a_list_are_known_by_their_headings():
    headings = ["Brand", "Item no.", "Description", "Dealer price", "Lead time (days)", "Stock"]
    cells = ["Corvane", "CV-9", "running belt", Decimal("9.50"), Decimal(4), "yes"]
    table = Table(
        "list",
        tuple(
            {place: Cell(number, place, value) for place, value in enumerate(values)}
            for number, values in ((3, headings), (4, cells), (5, cells))
        ),
    )
    layout = propose(table, WANTED)
    assert layout.heading_row == 3
    assert {name: choice.column for name, choice in layout.columns.items()} == {
        "maker": 0, "number": 1, "name": 2, "cost": 3, "lead_days": 4, "availability": 5,
    }  # fmt: skip
