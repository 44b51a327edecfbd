"""The scope of a final test. Every fact here: common practice, no published source."""

from dataclasses import dataclass, field

import pytest

from units.inspections.domain.scope import (
    BENCH,
    CLUB,
    HOME,
    Scope,
    Work,
    joined,
    run_in_minutes,
    scope_of,
)


@dataclass
class Asked:
    key: str
    always: bool = False
    after: list = field(default_factory=list)
    places: list = field(default_factory=list)
    judged: set = field(default_factory=set)


STEPS = [
    Asked("stop", always=True),
    Asked("outlet", places=[HOME]),
    Asked("incline", after=["board"], judged={"lift-motor"}),
    Asked("keys", judged={"keys"}),
]
RUN_IN = {"step": "noise", "drive": ["belt"], "bench": 20, "home": 10, "club": 10, "otherwise": 5}


def keys(*components, place=BENCH, full=False):
    return scope_of(STEPS, {}, Work(components, place, full)).keys


def test_what_is_always_tested_is_tested_whatever_was_worked_on():
    assert keys("belt") == ("stop",)


@pytest.mark.parametrize("component", ["board", "lift-motor"])
def test_a_step_follows_work_on_what_it_judges_and_on_what_it_depends_on(component):
    assert keys(component) == ("stop", "incline")


def test_a_place_asks_for_its_own_steps():
    assert keys("belt", place=HOME) == ("stop", "outlet")
    assert keys("belt", place=CLUB) == ("stop",)


def test_for_resale_and_where_no_work_is_known_everything_is_asked():
    assert keys("belt", full=True) is None
    assert keys() is None
    assert scope_of(STEPS, {}, Work()).full


@pytest.mark.parametrize(
    ("component", "place", "minutes"),
    [("belt", BENCH, 20), ("belt", HOME, 10), ("belt", CLUB, 10), ("keys", BENCH, 5)],
)
def test_the_run_in_is_long_after_work_on_the_drive(component, place, minutes):
    assert run_in_minutes(RUN_IN, Work([component], place)) == minutes
    assert scope_of(STEPS, RUN_IN, Work([component], place)).run_in == minutes


def test_where_no_work_is_known_the_run_in_is_that_after_work_on_the_drive():
    assert run_in_minutes(RUN_IN, Work()) == 20


def test_a_kind_without_a_run_in_has_none():
    assert run_in_minutes({}, Work(["belt"])) is None


@pytest.mark.parametrize(
    ("one", "other", "both"),
    [
        (["stop"], ("stop", "keys"), ["stop", "keys"]),
        (None, ("stop",), None),
        (["stop"], None, None),
    ],
)
def test_a_test_that_goes_on_after_more_work_asks_for_both(one, other, both):
    assert joined(one, other) == both


def test_a_scope_of_some_steps_is_not_the_full_one():
    assert not Scope(("stop",), None).full
