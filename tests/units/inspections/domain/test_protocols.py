from decimal import Decimal

import pytest

from units.inspections.domain.protocols import parse_protocol
from units.inspections.domain.tables import TableError

LOOK = {
    "key": "belt",
    "title": "Belt",
    "instruction": "Look at it.",
    "component": "running-belt",
    "conditions": [
        {"condition": "clean", "label": "clean", "passes": True},
        {"condition": "worn", "label": "worn", "passes": False},
    ],
}
MEASURE = {
    "key": "current",
    "title": "Current",
    "instruction": "Measure it.",
    "component": "drive-motor",
    "measure": "A",
    "high": 12,
    "fails_as": "high-current",
}
HEADING = {
    "slug": "treadmill-arrival",
    "version": 1,
    "title": "Treadmill on arrival",
    "kind": "treadmill",
    "occasion": "arrival",
    "source": "common practice",
}


def parsed(*steps, **heading):
    data = HEADING | {"steps": list(steps)} | heading
    return parse_protocol(
        data, "t.toml", {"treadmill": {"running-belt", "drive-motor"}}, {"unplug"}
    )


def without(row, word):
    return {key: value for key, value in row.items() if key != word}


def with_conditions(*rows):
    return LOOK | {"conditions": list(rows)}


def test_steps_keep_their_order_and_know_what_they_ask_for():
    steps = parsed(LOOK, MEASURE).steps
    assert [(step.key, step.answer) for step in steps] == [
        ("belt", "condition"),
        ("current", "measure"),
    ]
    assert steps[1].high == Decimal(12)


WORN = {"condition": "worn", "label": "worn", "passes": False}
CLEAN = {"condition": "clean", "label": "clean", "passes": True}


@pytest.mark.parametrize(
    ("step", "says"),
    [
        (LOOK | {"component": "anchor"}, "“anchor” is not a known component of this kind"),
        (LOOK | {"cautions": ["sharks"]}, "“sharks” is not a known caution"),
        (LOOK | {"power": "solar"}, "“solar” is not a known state of power"),
        (LOOK | {"hold": True}, "“hold” is not a known word of a step"),
        (without(LOOK, "instruction"), "“instruction” is missing"),
        (without(LOOK, "component"), "“component” is missing"),
        (with_conditions(CLEAN, WORN | {"label": ""}), "“label” is missing"),
        (with_conditions(CLEAN, WORN | {"passes": "no"}), "says whether it passes"),
        (with_conditions(CLEAN, WORN | {"component": "anchor"}), "“anchor” is not a known"),
        (with_conditions(CLEAN, WORN | {"colour": "red"}), "“colour” is not a known word"),
        (with_conditions(CLEAN, CLEAN | {"passes": False}), "different conditions"),
        (with_conditions(CLEAN), "some that pass and some that fail"),
        (LOOK | {"measure": "A"}, "not both"),
    ],
)
def test_a_faulty_step_is_refused_with_file_step_and_fault(step, says):
    with pytest.raises(TableError) as refusal:
        parsed(step)
    assert says in str(refusal.value)
    assert str(refusal.value).startswith("t.toml, step belt")


@pytest.mark.parametrize(
    ("missing", "says"),
    [("measure", "with its unit, are missing"), ("fails_as", "what a value outside is called")],
)
def test_a_measure_without_its_unit_or_its_failure_is_refused(missing, says):
    with pytest.raises(TableError, match=says):
        parsed(without(MEASURE, missing))


def test_a_measure_without_limits_needs_no_name_for_failing():
    step = without(without(MEASURE, "high"), "fails_as")
    assert parsed(step).steps[0].high is None


@pytest.mark.parametrize(
    ("heading", "says"),
    [
        ({"kind": "boat"}, "“boat” is not a known kind"),
        ({"occasion": "sunday"}, "“sunday” is not a known occasion"),
        ({"version": 0}, "has a version"),
        ({"version": "1"}, "has a version"),
        ({"steps": []}, "at least one step"),
        ({"source": ""}, "“source” is missing"),
        ({"colour": "red"}, "“colour” is not a known word of a protocol"),
    ],
)
def test_a_faulty_heading_is_refused(heading, says):
    with pytest.raises(TableError, match=says):
        parsed(LOOK, **heading)


def test_two_steps_of_one_key_are_refused():
    with pytest.raises(TableError, match="“belt” stands there twice"):
        parsed(LOOK, LOOK)
