"""What follows from a step that was not possible. Common practice, no published source."""

import pytest

from units.inspections.domain.notes import parse_notes
from units.inspections.domain.tables import TableError
from units.inspections.selectors import common_notes

NOTES = {"source": "common practice", "reasons": ["no power here"]}


def test_every_reason_that_is_offered_has_a_consequence():
    notes = common_notes()
    assert set(notes.consequences) == set(notes.reasons)
    assert len(notes.reasons) >= 6


def test_no_power_and_taken_apart_are_never_a_sound_machine():
    follows = common_notes().consequences
    assert "neither bought nor called working" in follows["no power here"]
    assert "counts as a donor" in follows["taken apart"]


@pytest.mark.parametrize(
    ("consequences", "says"),
    [({"rain": "It is wet."}, "“rain” is not a known reason"), ({"no power here": ""}, "missing")],
)
def test_a_faulty_consequence_is_refused(consequences, says):
    with pytest.raises(TableError, match=says):
        parse_notes(NOTES | {"consequences": consequences}, "notes.toml", [])


def test_a_reason_may_be_without_a_consequence():
    assert parse_notes(NOTES, "notes.toml", []).consequences == {}
