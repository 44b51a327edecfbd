"""What a job waits for: derived from its facts, never typed.

Source: common practice, no published source.
"""

from dataclasses import dataclass
from enum import StrEnum

from shop.work.domain.closing import FinalTest


class Waits(StrEnum):
    INSPECTION = "inspection"
    ESTIMATE = "estimate"
    OFFER = "offer"
    ANSWER = "answer"
    REFUSED = "refused"
    PARTS = "parts"
    START = "start"
    TAKING = "taking"
    WORK = "work"
    TEST = "test"
    TEST_FAILED = "test-failed"
    CLOSING = "closing"
    HAND_BACK = "hand-back"
    NOTHING = "nothing"


# Once the work is done: a test that is missing, unfinished or older than the work is to be made.
AFTER_WORK = {FinalTest.PASSED: Waits.CLOSING, FinalTest.FAILED: Waits.TEST_FAILED}


@dataclass(frozen=True)
class JobFacts:
    """``drafted``: the newest estimate is not offered yet; ``said_no``: it was refused.

    ``parts_missing``: names of parts of the approved estimate neither used nor on hand.
    ``parts_to_take``: whether approved parts on hand still wait to be taken."""

    state: str
    inspected: bool = False
    drafted: bool = False
    said_no: bool = False
    parts_missing: tuple[str, ...] = ()
    parts_to_take: bool = False
    time_written: bool = False
    test: FinalTest = FinalTest.MISSING


def waits_for(facts: JobFacts) -> Waits:
    """The one thing that is next for a job."""
    if facts.drafted and facts.state in {"logged", "estimated", "approved", "in-work"}:
        return Waits.OFFER
    if facts.state in {"approved", "in-work"}:
        return _on_the_bench(facts)
    plain = {
        "logged": Waits.ESTIMATE if facts.inspected else Waits.INSPECTION,
        "estimated": Waits.REFUSED if facts.said_no else Waits.ANSWER,
        "closed": Waits.HAND_BACK,
    }
    return plain.get(facts.state, Waits.NOTHING)


def _on_the_bench(facts: JobFacts) -> Waits:
    if facts.parts_missing:
        return Waits.PARTS
    if facts.state == "approved":
        return Waits.START
    if facts.parts_to_take:
        return Waits.TAKING
    if not facts.time_written:
        return Waits.WORK
    return AFTER_WORK.get(facts.test, Waits.TEST)
