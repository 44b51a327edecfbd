from decimal import Decimal

import pytest

from units.inspections.domain.protocols import parse_kind
from units.inspections.domain.steps import Known
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
KNOWN = Known({"treadmill": {"running-belt", "drive-motor"}}, {"unplug"}, {"light"})


def library_of(*steps):
    return {step["key"]: without(step, "key") for step in steps}


def parsed(*steps, shared=None, **words):
    """The protocol that asks these steps of a treadmill on arrival."""
    library = library_of(*steps)
    heading = {"version": 1, "title": "On arrival", "occasion": "arrival", "steps": list(library)}
    table = {"kind": "treadmill", "source": "common practice", "steps": library}
    data = table | {"protocols": [heading | words]}
    (protocol,) = parse_kind(data, shared or {}, "t.toml", KNOWN)
    return protocol


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
        (with_conditions(CLEAN, CLEAN | {"passes": False}), "each named once"),
        (with_conditions(CLEAN), "at least two conditions"),
        (with_conditions(CLEAN, WORN | {"passes": True}), "some conditions pass and some fail"),
        (LOOK | {"asks": True}, "of a step that only asks, all pass"),
        (with_conditions(CLEAN, WORN | {"ends": "lunch"}), "“lunch” is not a known end"),
        (with_conditions(CLEAN, WORN | {"ends": "walk-away"}), "“why” is missing"),
        (LOOK | {"tools": ["magic"]}, "“magic” is not a known tool"),
        (LOOK | {"after": ["anchor"]}, "“anchor” is not a known component of this kind"),
        (LOOK | {"places": ["moon"]}, "“moon” is not a known place"),
        (LOOK | {"seconds": 0}, "“seconds” is a whole number above 0"),
        (LOOK | {"measure": "A"}, "not both"),
    ],
)
def test_a_faulty_step_is_refused_with_file_step_and_fault(step, says):
    with pytest.raises(TableError) as refusal:
        parsed(step)
    assert says in str(refusal.value)
    assert str(refusal.value).startswith("t.toml, arrival, belt")


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
        ({"occasion": "sunday"}, "“sunday” is not a known occasion"),
        ({"version": 0}, "has a version"),
        ({"version": "1"}, "has a version"),
        ({"steps": []}, "at least one step"),
        ({"steps": ["mast"]}, "“mast” is not a known step"),
        ({"title": ""}, "“title” is missing"),
        ({"colour": "red"}, "“colour” is not a known word of a protocol"),
        ({"run_in": {"step": "mast"}}, "“mast” is not a known step"),
        ({"run_in": {"step": "belt", "bench": 20}}, "minutes for bench, home, club and otherwise"),
    ],
)
def test_a_faulty_protocol_is_refused(heading, says):
    with pytest.raises(TableError, match=says):
        parsed(LOOK, **heading)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ({"kind": "boat"}, "“boat” is not a known kind"),
        ({"source": ""}, "“source” is missing"),
        ({"colour": "red"}, "“colour” is not a known word of a kind's table"),
    ],
)
def test_a_faulty_table_of_a_kind_is_refused(words, says):
    with pytest.raises(TableError, match=says):
        parse_kind({"kind": "treadmill", "source": "x"} | words, {}, "t.toml", KNOWN)


def test_two_steps_of_one_key_are_refused():
    with pytest.raises(TableError, match="“belt” stands there twice"):
        parsed(LOOK, steps=["belt", {"key": "belt", "title": "Again"}])


def test_a_kind_says_a_shared_step_otherwise_and_a_protocol_the_kinds():
    (step,) = parsed(
        {"key": "belt", "title": "Running belt"},
        shared=library_of(LOOK),
        steps=[{"key": "belt", "seconds": 20}],
    ).steps
    assert (step.title, step.instruction, step.seconds) == ("Running belt", "Look at it.", 20)


def test_a_step_may_take_the_words_of_another_under_its_own_key():
    (step,) = parsed(LOOK, MEASURE, steps=[{"key": "speed", "like": "current"}]).steps
    assert (step.key, step.measure) == ("speed", "A")


def test_another_word_of_a_step_is_another_content_and_another_version_is_not():
    first = parsed(LOOK).fingerprint()
    assert parsed(LOOK, version=2).fingerprint() == first
    assert parsed(LOOK | {"instruction": "Look well."}).fingerprint() != first
    assert parsed(LOOK, title="Otherwise").fingerprint() != first


def test_a_word_at_its_default_is_no_other_content():
    spoken = LOOK | {"holds": False, "tools": [], "photo": ""}
    assert parsed(spoken).fingerprint() == parsed(LOOK).fingerprint()


def test_a_protocol_takes_as_long_as_its_steps():
    assert parsed(LOOK | {"seconds": 20}, MEASURE).seconds == 80
