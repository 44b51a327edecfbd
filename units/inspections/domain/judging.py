"""Whether an answer to a step is sound, and under which condition it is written down."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

PASS, FAIL, NOT_POSSIBLE = "pass", "fail", "not-possible"
WITHIN_LIMITS = "within-limits"
CODE_SHOWN = "code-shown"  # the display shows an error code


@dataclass(frozen=True)
class Judgement:
    """``outcome`` is pass, fail or not-possible; ``condition`` the word a finding carries."""

    outcome: str
    condition: str


def judge_condition(condition: str, known: Sequence[dict]) -> Judgement | None:
    """Judge a condition among the step's own; None when the step does not know it."""
    for row in known:
        if row["condition"] == condition:
            return Judgement(PASS if row["passes"] else FAIL, condition)
    return None


def judge_measure(
    value: Decimal, low: Decimal | None, high: Decimal | None, fails_as: str
) -> Judgement:
    """Judge a value in the step's own measure; the limits themselves still pass."""
    below = low is not None and value < low
    above = high is not None and value > high
    return Judgement(FAIL, fails_as) if below or above else Judgement(PASS, WITHIN_LIMITS)


def holds_machine(*, step_holds: bool, outcome: str, final: bool) -> bool:
    """Whether a result keeps the machine from a sale and from the word "repaired".

    On arrival a safety look that was not possible is a gap; in the final test it is a proof
    that is missing, so there it holds as a failure does. Source: common practice.
    """
    return step_holds and (outcome == FAIL or (final and outcome == NOT_POSSIBLE))
