"""What looks say of components. Common practice, no published source."""

import pytest

from units.inspections.domain.outcomes import (
    Seen,
    fates_of,
    population_of,
    state_of,
)


def seen(component="deck", condition="smooth", sound=True, possible=True, power="off") -> Seen:
    return Seen(component, condition, sound, possible, power)


@pytest.mark.parametrize(
    ("looks", "acts", "fate"),
    [
        ([seen()], {}, "sound"),
        ([seen(sound=False)], {"deck": "replace"}, "worn"),
        ([seen()], {"deck": "replace"}, "worn"),
        ([seen(), seen(sound=False)], {"deck": "service"}, "serviced"),
        ([seen(sound=False), seen()], {}, "undecided"),
        ([seen(sound=False)], {"deck": "suspect"}, "undecided"),
        ([seen()], {"deck": "suspect"}, "sound"),
        ([seen(sound=False)], {"deck": "clear"}, "sound"),
    ],
)
def test_what_was_seen_and_the_verdict_make_the_fate(looks, acts, fate):
    assert fates_of(looks, acts) == {"deck": fate}


def test_what_nobody_could_look_at_is_missing_not_fine():
    assert fates_of([seen(possible=False)], {}) == {}


def test_what_the_rules_only_reasoned_about_is_missing():
    assert fates_of([seen(sound=False)], {"deck": "replace", "running-belt": "replace"}) == {
        "deck": "worn"
    }


@pytest.mark.parametrize(
    ("looks", "state"),
    [
        ([], "unknown"),
        ([seen(power="off")], "unknown"),
        ([seen(power="off"), seen(power="on")], "powered"),
        ([seen(power="on"), seen(power="running")], "run"),
        ([seen(power="on"), seen(power="running", possible=False)], "powered"),
        ([seen(condition="taken-apart", sound=False), seen(power="on")], "apart"),
    ],
)
def test_how_far_a_machine_could_be_tried(looks, state):
    assert state_of(looks) == state


@pytest.mark.parametrize(
    ("occasion", "told", "population"),
    [
        ("club", "", "club"),
        ("club", "private", "club"),
        ("purchase", "", "private"),
        ("arrival", "private", "private"),
        ("arrival", "", "repair"),
    ],
)
def test_the_place_says_where_a_machine_comes_from(occasion, told, population):
    assert population_of(occasion, told) == population


def test_what_was_only_told_is_no_look():
    """Not looked at is missing, never fine: an outlet of its own says nothing of the cord."""
    told = Seen("power-cord", "own-circuit", True, True, "off", judges=False)
    assert fates_of([told], {}) == {}
    assert fates_of([told, seen("power-cord", sound=False)], {}) == {"power-cord": "undecided"}
