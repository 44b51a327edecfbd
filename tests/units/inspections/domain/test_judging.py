from decimal import Decimal

import pytest

from units.inspections.domain.judging import (
    FAIL,
    NOT_POSSIBLE,
    PASS,
    Judgement,
    holds_machine,
    judge_condition,
    judge_measure,
)

KNOWN = [{"condition": "clean", "passes": True}, {"condition": "glazed", "passes": False}]


@pytest.mark.parametrize(
    ("value", "low", "high", "outcome", "condition"),
    [
        ("12", "0", "12", PASS, "within-limits"),
        ("12.0001", "0", "12", FAIL, "high-current"),
        ("0", "0", "12", PASS, "within-limits"),
        ("1.9999", "2", "12", FAIL, "high-current"),
        ("2", "2", None, PASS, "within-limits"),
        ("900000", None, None, PASS, "within-limits"),
        ("13", None, "12", FAIL, "high-current"),
    ],
)
def test_a_measure_passes_up_to_and_with_its_limits(value, low, high, outcome, condition):
    limits = [None if limit is None else Decimal(limit) for limit in (low, high)]
    assert judge_measure(Decimal(value), *limits, "high-current") == Judgement(outcome, condition)


def test_a_condition_is_judged_by_the_steps_own_table():
    assert judge_condition("clean", KNOWN) == Judgement(PASS, "clean")
    assert judge_condition("glazed", KNOWN) == Judgement(FAIL, "glazed")


def test_a_condition_that_the_step_does_not_name_is_not_judged():
    assert judge_condition("grooved", KNOWN) is None


@pytest.mark.parametrize(
    ("step_holds", "outcome", "final", "holds"),
    [
        (True, FAIL, False, True),
        (True, FAIL, True, True),
        (True, NOT_POSSIBLE, False, False),
        (True, NOT_POSSIBLE, True, True),
        (True, PASS, True, False),
        (False, FAIL, True, False),
        (False, NOT_POSSIBLE, True, False),
    ],
)
def test_a_missing_proof_of_safety_holds_in_the_final_test_only(step_holds, outcome, final, holds):
    assert holds_machine(step_holds=step_holds, outcome=outcome, final=final) is holds
