"""Common practice, no published source."""

from dataclasses import replace

import pytest

from shop.work.domain.closing import CONDITIONS, ClosingFacts, FinalTest, SafetyKey, missing

REPAIRED = ClosingFacts(
    outcome="repaired",
    has_safety_key=True,
    safety_key=SafetyKey.HERE,
    inspected=True,
    minutes=60,
    test=FinalTest.PASSED,
)
NO_FAULT = ClosingFacts(outcome="no-fault", inspected=True, minutes=20)
DECLINED = ClosingFacts(outcome="declined", said_no=True, notice="Leaves unrepaired.")
UNSAFE = ClosingFacts(outcome="unsafe", notice="Do not use.", holds=["frame"])


def keys(facts):
    return [one.key for one in missing(facts)]


@pytest.mark.parametrize("facts", [REPAIRED, NO_FAULT, DECLINED, UNSAFE])
def test_a_job_with_everything_may_be_closed(facts):
    assert missing(facts) == []


FAILURES = [
    (REPAIRED, {"minutes": 0}, "time"),
    (REPAIRED, {"test": FinalTest.MISSING}, "test-missing"),
    (REPAIRED, {"test": FinalTest.UNFINISHED}, "test-unfinished"),
    (REPAIRED, {"test": FinalTest.FAILED}, "test-failed"),
    (REPAIRED, {"test": FinalTest.OLDER}, "test-older"),
    (REPAIRED, {"lines_not_used": ["belt"]}, "lines"),
    (REPAIRED, {"beyond_the_yes": "too much"}, "beyond-the-yes"),
    (REPAIRED, {"holds": ["frame"]}, "hold"),
    (REPAIRED, {"not_covered": ["fan"]}, "not-covered"),
    (REPAIRED, {"safety_key": SafetyKey.UNSAID}, "key-unsaid"),
    (REPAIRED, {"safety_key": SafetyKey.LOST}, "key-lost"),
    (NO_FAULT, {"inspected": False}, "inspection"),
    (NO_FAULT, {"standing": ["deck"]}, "fault-found"),
    (NO_FAULT, {"minutes": 0}, "time"),
    (NO_FAULT, {"parts_in": ["belt"]}, "parts-in"),
    (REPAIRED, {"untested": ["fan"]}, "test-narrow"),
    (DECLINED, {"said_no": False}, "no-answer"),
    (DECLINED, {"notice": "  "}, "notice"),
    (UNSAFE, {"notice": ""}, "notice"),
    (UNSAFE, {"has_safety_key": True}, "key-unsaid"),
    (REPAIRED, {"clocks": ["Tobin"]}, "clock-runs"),
    (DECLINED, {"clocks": ["Tobin"]}, "clock-runs"),
]


@pytest.mark.parametrize(("facts", "change", "key"), FAILURES)
def test_one_thing_missing_is_named_alone(facts, change, key):
    assert keys(replace(facts, **change)) == [key]


def test_every_condition_of_the_table_fails_in_some_test():
    assert {key for _facts, _change, key in FAILURES} == {one.key for one in CONDITIONS}


def test_what_is_missing_names_what_it_speaks_of():
    (one,) = missing(replace(REPAIRED, holds=["frame", "power cord"]))
    assert one.names == ("frame", "power cord")


def test_everything_missing_is_named_at_once():
    facts = replace(REPAIRED, minutes=0, test=FinalTest.MISSING, holds=["frame"])
    assert keys(facts) == ["time", "test-missing", "hold"]


@pytest.mark.parametrize("change", [{"minutes": 0}, {"not_covered": ["fan"]}])
def test_the_owner_may_waive_time_and_small_faults(change):
    assert missing(replace(REPAIRED, waiver="agreed with the customer", **change)) == []


@pytest.mark.parametrize(
    "change",
    [
        {"holds": ["frame"]},
        {"test": FinalTest.FAILED},
        {"safety_key": SafetyKey.LOST},
        {"lines_not_used": ["belt"]},
    ],
)
def test_nobody_waives_what_is_about_safety(change):
    assert missing(replace(REPAIRED, waiver="in a hurry", **change))


def test_a_waiver_of_spaces_waives_nothing():
    assert keys(replace(REPAIRED, waiver="  ", minutes=0)) == ["time"]


def test_a_kind_without_a_safety_key_is_not_asked_for_one():
    assert missing(replace(REPAIRED, has_safety_key=False, safety_key=SafetyKey.UNSAID)) == []


def test_a_customer_who_kept_the_key_is_accounted_for():
    assert missing(replace(REPAIRED, safety_key=SafetyKey.KEPT)) == []


def test_a_hold_does_not_keep_a_machine_from_leaving_unsafe():
    assert missing(UNSAFE) == []
