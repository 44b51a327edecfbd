"""The table of common notes. All of it: common practice, no published source."""

import pytest

from units.inspections.domain.notes import parse_notes
from units.inspections.domain.tables import TableError

TABLE = {
    "source": "common practice, no published source",
    "reasons": ["no power here"],
    "notes": [{"phrase": "comes and goes"}, {"phrase": "wax found", "components": ["deck"]}],
}


def parse(**words):
    return parse_notes(TABLE | words, "notes.toml", {"deck", "frame"})


def test_a_step_offers_the_notes_of_its_component_before_those_of_every_step():
    assert parse().at("deck") == ["wax found", "comes and goes"]
    assert parse().at("frame") == parse().at(None) == ["comes and goes"]


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ({"source": ""}, "source"),
        ({"reasons": []}, "at least one reason"),
        ({"colour": "red"}, "colour"),
        ({"notes": [{"phrase": ""}]}, "phrase"),
        ({"notes": [{"phrase": "rust", "where": "left"}]}, "where"),
        ({"notes": [{"phrase": "rust", "components": ["sail"]}]}, "sail"),
    ],
)
def test_a_fault_in_the_table_is_named(words, says):
    with pytest.raises(TableError, match=says):
        parse(**words)
