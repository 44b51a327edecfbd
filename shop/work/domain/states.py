"""Every way a job's state may change: one table, read by whoever moves a job or shows its deeds.

``outcomes`` narrows a way to those outcomes; ``seats`` to those seats, on top of what the access
table already asks. Source: common practice, no published source.
"""

from dataclasses import dataclass

CUSTOMER, OWN = "customer", "own"
BOTH = frozenset({CUSTOMER, OWN})
OFFER, YES, NO, START, TEST, REWORK = "offer", "yes", "no", "start", "test", "rework"
CLOSE, CANCEL, HAND_BACK = "close", "cancel", "hand-back"


@dataclass(frozen=True)
class Way:
    origin: str
    deed: str
    to: str
    purposes: frozenset[str] = BOTH
    outcomes: frozenset[str] = frozenset()
    seats: frozenset[str] = frozenset()


def _some(*words: str) -> frozenset[str]:
    return frozenset(words)


WAYS = (
    Way("logged", OFFER, "estimated"),
    Way("logged", CLOSE, "closed", outcomes=_some("no-fault", "unsafe")),
    Way("logged", CANCEL, "cancelled"),
    Way("estimated", OFFER, "estimated"),
    Way("estimated", YES, "approved", purposes=_some(CUSTOMER)),
    Way("estimated", YES, "approved", purposes=_some(OWN), seats=_some("owner")),
    Way("estimated", NO, "approved"),  # the earlier yes still stands
    Way("estimated", CLOSE, "closed", outcomes=_some("no-fault", "unsafe")),
    Way("estimated", CLOSE, "closed", purposes=_some(CUSTOMER), outcomes=_some("declined")),
    Way("estimated", CANCEL, "cancelled"),
    Way("approved", OFFER, "estimated"),
    Way("approved", START, "in-work"),
    Way("approved", CLOSE, "closed", outcomes=_some("no-fault", "unsafe")),
    Way("approved", CLOSE, "closed", purposes=_some(CUSTOMER), outcomes=_some("declined")),
    Way("approved", CANCEL, "cancelled"),
    Way("in-work", OFFER, "estimated"),
    Way("in-work", TEST, "tested"),
    Way("in-work", CLOSE, "closed", outcomes=_some("no-fault", "unsafe")),
    Way("in-work", CLOSE, "closed", purposes=_some(CUSTOMER), outcomes=_some("declined")),
    Way("in-work", CANCEL, "cancelled"),
    Way("tested", OFFER, "estimated"),
    Way("tested", REWORK, "in-work"),
    Way("tested", CLOSE, "closed", outcomes=_some("repaired", "no-fault", "unsafe")),
    Way("closed", HAND_BACK, "handed-back", purposes=_some(CUSTOMER)),
)


def ways_from(state: str, purpose: str) -> list[Way]:
    return [way for way in WAYS if way.origin == state and purpose in way.purposes]


def deeds_of(state: str, purpose: str) -> frozenset[str]:
    """What may be done next with a job in this state."""
    return frozenset(way.deed for way in ways_from(state, purpose))


def way_to(state: str, to: str, purpose: str, outcome: str = "") -> Way | None:
    """The way between two states for a job of this purpose and outcome, or None."""
    for way in ways_from(state, purpose):
        if way.to == to and (not way.outcomes or outcome in way.outcomes):
            return way
    return None


def outcomes_of(state: str, purpose: str) -> list[str]:
    """The outcomes a job in this state may be closed with, in the order they are offered.

    A job in work may be closed as repaired too: its passed final test is the state between.
    """
    found = {outcome for way in ways_from(state, purpose) for outcome in way.outcomes}
    if TEST in deeds_of(state, purpose):
        found |= {outcome for way in ways_from("tested", purpose) for outcome in way.outcomes}
    return [one for one in ("repaired", "no-fault", "declined", "unsafe") if one in found]
