"""What a job waits for: derived from its facts, never typed.

Source: common practice, no published source.
"""

from dataclasses import dataclass
from enum import StrEnum


class Waits(StrEnum):
    INSPECTION = "inspection"
    ESTIMATE = "estimate"
    OFFER = "offer"
    ANSWER = "answer"
    PARTS = "parts"
    START = "start"
    TAKING = "taking"
    WORK = "work"
    TEST = "test"
    TEST_FAILED = "test-failed"
    CLOSING = "closing"
    HAND_BACK = "hand-back"
    NOTHING = "nothing"


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
    tested: bool = False
    test_failed: bool = False


def waits_for(facts: JobFacts) -> Waits:
    """The one thing that is next for a job."""
    if facts.drafted and facts.state in {"logged", "estimated", "approved", "in-work", "tested"}:
        return Waits.OFFER
    if facts.state in {"approved", "in-work"}:
        return _on_the_bench(facts)
    plain = {
        "logged": Waits.ESTIMATE if facts.inspected else Waits.INSPECTION,
        "estimated": Waits.CLOSING if facts.said_no else Waits.ANSWER,
        "tested": Waits.CLOSING,
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
    if facts.test_failed:
        return Waits.TEST_FAILED
    return Waits.CLOSING if facts.tested else Waits.TEST
