"""What must be there before a job is closed, by outcome, kind of machine and purpose.

Source: common practice, no published source. The table reads: a condition, the outcomes it
applies to, whether the owner may waive it with a reason, and how it fails.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum

REPAIRED, NO_FAULT, DECLINED, UNSAFE = "repaired", "no-fault", "declined", "unsafe"


class FinalTest(StrEnum):
    """How a final test stands."""

    MISSING = "missing"
    UNFINISHED = "unfinished"
    FAILED = "failed"
    OLDER = "older"
    PASSED = "passed"


class SafetyKey(StrEnum):
    """Where the safety key is; UNSAID also for kinds that have none."""

    UNSAID = ""
    HERE = "here"
    NEW = "new"
    KEPT = "kept"
    LOST = "lost"


@dataclass(frozen=True)
class ClosingFacts:
    """What is known of a job about to be closed; components and lines by their names.

    ``beyond_the_yes`` says how far the charge outgrows what was agreed, or nothing. ``parts_in``
    are parts taken and not put back; ``untested`` is what the work asks a final test for and the
    newest one did not look at.
    """

    outcome: str
    has_safety_key: bool = False
    safety_key: SafetyKey = SafetyKey.UNSAID
    said_no: bool = False
    inspected: bool = False
    minutes: int = 0
    test: FinalTest = FinalTest.MISSING
    lines_not_used: Sequence[str] = ()
    parts_in: Sequence[str] = ()
    untested: Sequence[str] = ()
    holds: Sequence[str] = ()
    not_covered: Sequence[str] = ()
    standing: Sequence[str] = ()
    clocks: Sequence[str] = ()
    beyond_the_yes: str = ""
    notice: str = ""
    waiver: str = ""


@dataclass(frozen=True)
class Missing:
    """A condition that is not met, and the names it speaks of."""

    key: str
    names: tuple[str, ...] = ()


@dataclass(frozen=True)
class Condition:
    key: str
    outcomes: frozenset[str]
    fails: Callable[[ClosingFacts], bool]
    names: Callable[[ClosingFacts], Sequence[str]] = lambda facts: ()
    waivable: bool = False


ALL = frozenset({REPAIRED, NO_FAULT, DECLINED, UNSAFE})
_repaired, _no_fault = frozenset({REPAIRED}), frozenset({NO_FAULT})
_declined = frozenset({DECLINED})
# Outcomes with which a machine leaves under a written notice.
WRITTEN = frozenset({DECLINED, UNSAFE})

CONDITIONS = (
    Condition("clock-runs", ALL, lambda facts: bool(facts.clocks), lambda facts: facts.clocks),
    Condition("no-answer", _declined, lambda facts: not facts.said_no),
    Condition("inspection", _no_fault, lambda facts: not facts.inspected),
    Condition(
        "fault-found",
        _no_fault,
        lambda facts: bool(facts.standing),
        lambda facts: facts.standing,
    ),
    # Who put a part in found a fault: that is a repair, with its test and its warranty.
    Condition(
        "parts-in",
        _no_fault,
        lambda facts: bool(facts.parts_in),
        lambda facts: facts.parts_in,
    ),
    Condition(
        "lines",
        _repaired,
        lambda facts: bool(facts.lines_not_used),
        lambda facts: facts.lines_not_used,
    ),
    Condition(
        "beyond-the-yes",
        _repaired,
        lambda facts: bool(facts.beyond_the_yes),
        lambda facts: [facts.beyond_the_yes],
    ),
    Condition("time", _repaired | _no_fault, lambda facts: facts.minutes == 0, waivable=True),
    *(
        Condition(f"test-{state}", _repaired, lambda facts, state=state: facts.test == state)
        for state in FinalTest
        if state != FinalTest.PASSED
    ),
    Condition(
        "test-narrow",
        _repaired,
        lambda facts: facts.test == FinalTest.PASSED and bool(facts.untested),
        lambda facts: facts.untested,
    ),
    Condition("hold", _repaired, lambda facts: bool(facts.holds), lambda facts: facts.holds),
    Condition(
        "not-covered",
        _repaired,
        lambda facts: bool(facts.not_covered),
        lambda facts: facts.not_covered,
        waivable=True,
    ),
    Condition(
        "key-unsaid",
        ALL,
        lambda facts: facts.has_safety_key and facts.safety_key == SafetyKey.UNSAID,
    ),
    Condition(
        "key-lost",
        _repaired,
        lambda facts: facts.has_safety_key and facts.safety_key == SafetyKey.LOST,
    ),
    Condition("notice", WRITTEN, lambda facts: not facts.notice.strip()),
)


def keys_for(outcome: str) -> tuple[str, ...]:
    """The conditions of an outcome, by their keys."""
    return tuple(one.key for one in CONDITIONS if outcome in one.outcomes)


def missing(facts: ClosingFacts) -> list[Missing]:
    """Everything that closing with this outcome still needs; empty when the job may be closed."""
    waived = bool(facts.waiver.strip())
    return [
        Missing(one.key, tuple(one.names(facts)))
        for one in _failing(facts)
        if not (one.waivable and waived)
    ]


def waived(facts: ClosingFacts) -> list[Missing]:
    """What is missing and done without, for the owner's reason; nothing without one."""
    if not facts.waiver.strip():
        return []
    return [Missing(one.key, tuple(one.names(facts))) for one in _failing(facts) if one.waivable]


def _failing(facts: ClosingFacts) -> list[Condition]:
    return [one for one in CONDITIONS if facts.outcome in one.outcomes and one.fails(facts)]
