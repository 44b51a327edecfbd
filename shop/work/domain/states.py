"""Every way a job's state may change: one table, read by whoever moves a job or shows its deeds.

A row says from where, by which deed, to where, who may take it, for which work, with which outcome,
what must have been looked at before (``conditions``, keys that the service answers for), and which
rows the step leaves behind (``writes``, models by their label). Waiting and being tested are no
states: they are derived (:mod:`shop.work.domain.waiting`). Source: common practice, no published
source.
"""

from dataclasses import dataclass

from shop.work.domain.closing import DECLINED, NO_FAULT, REPAIRED, UNSAFE, keys_for

CUSTOMER, OWN, WARRANTY = "customer", "own", "warranty"
ALL = frozenset({CUSTOMER, OWN, WARRANTY})
THEIRS = frozenset({CUSTOMER, WARRANTY})  # the machine belongs to a customer
ONLY_CUSTOMER, ONLY_OWN, ONLY_WARRANTY = ({one} for one in (CUSTOMER, OWN, WARRANTY))

OFFER, YES, NO, NO_BUT, START = "offer", "yes", "no", "no-but", "start"
CLOSE, CANCEL, HAND_BACK, SELL_TO_US, KEEP = "close", "cancel", "hand-back", "sell-to-us", "keep"
DEEDS = (OFFER, YES, NO, NO_BUT, SELL_TO_US, START, CLOSE, CANCEL, HAND_BACK, KEEP)

LOGGED, ESTIMATED, APPROVED, IN_WORK = "logged", "estimated", "approved", "in-work"
CLOSED, HANDED_BACK, CANCELLED, TAKEN_OVER = "closed", "handed-back", "cancelled", "taken-over"
STATES = (LOGGED, ESTIMATED, APPROVED, IN_WORK, CLOSED, HANDED_BACK, CANCELLED, TAKEN_OVER)
BEFORE_CLOSING = (LOGGED, ESTIMATED, APPROVED, IN_WORK)
BOUGHT = "bought"  # the outcome of a job whose machine its owner sold to us
OUTCOMES = (REPAIRED, NO_FAULT, DECLINED, UNSAFE)

OWNER_SEAT = frozenset({"owner"})
DESK = frozenset({"front desk", "owner"})
BENCH = frozenset({"technician", "owner"})
ANY = DESK | BENCH

OFFERED = ("lines", "priced", "pairs")
ANSWERED = ("offered", "unanswered", "newest")
GIVEN_UP = ("parts-back", "clocks-stopped")
UNPROVEN = ("recalls-told", "not-held")  # a customer's machine leaves without an outcome
CLOSING_WRITES = {
    REPAIRED: ("work.Step", "inspections.ComponentOutcome"),
    NO_FAULT: ("work.Step",),
    DECLINED: ("work.Step", "work.Notice"),
    UNSAFE: ("work.Step", "work.Notice"),
}
STEP = ("work.Step",)
APPROVAL = (*STEP, "work.Approval")
SOLD_TO_US = (*APPROVAL, "floor.Stay", "floor.MachineCost")


@dataclass(frozen=True)
class Way:
    origin: str
    deed: str
    to: str
    seats: frozenset[str]
    purposes: frozenset[str] | set[str] = ALL
    outcome: str = ""
    conditions: tuple[str, ...] = ()
    writes: tuple[str, ...] = STEP


def _closing(origin: str, outcome: str, purposes=ALL) -> Way:
    conditions, writes = keys_for(outcome), CLOSING_WRITES[outcome]
    return Way(origin, CLOSE, CLOSED, BENCH, purposes, outcome, conditions, writes)


WAYS = (
    *(
        Way(one, OFFER, ESTIMATED, ANY, {CUSTOMER, OWN}, conditions=OFFERED)
        for one in BEFORE_CLOSING
    ),
    *(
        Way(one, OFFER, ESTIMATED, ANY, ONLY_WARRANTY, conditions=(*OFFERED, "covered"))
        for one in BEFORE_CLOSING
    ),
    Way(ESTIMATED, YES, APPROVED, DESK, ONLY_CUSTOMER, "", ANSWERED, APPROVAL),
    Way(ESTIMATED, YES, APPROVED, OWNER_SEAT, ONLY_OWN, "", ANSWERED, APPROVAL),
    Way(ESTIMATED, YES, APPROVED, ANY, ONLY_WARRANTY, "", ANSWERED, APPROVAL),
    Way(ESTIMATED, NO, ESTIMATED, DESK, ONLY_CUSTOMER, "", ANSWERED, APPROVAL),
    Way(ESTIMATED, NO, ESTIMATED, OWNER_SEAT, ONLY_OWN, "", ANSWERED, APPROVAL),
    # A no to a later version: the earlier yes still stands.
    Way(ESTIMATED, NO_BUT, APPROVED, DESK, ONLY_CUSTOMER, "", ANSWERED, APPROVAL),
    Way(ESTIMATED, NO_BUT, APPROVED, OWNER_SEAT, ONLY_OWN, "", ANSWERED, APPROVAL),
    Way(
        ESTIMATED,
        SELL_TO_US,
        TAKEN_OVER,
        DESK,
        ONLY_CUSTOMER,
        BOUGHT,
        (*ANSWERED, "for-sale", "asked", *GIVEN_UP, "recalls-told"),
        SOLD_TO_US,
    ),
    Way(APPROVED, START, IN_WORK, BENCH),
    *(_closing(origin, one) for origin in BEFORE_CLOSING for one in (NO_FAULT, UNSAFE)),
    *(_closing(one, DECLINED, ONLY_CUSTOMER) for one in (ESTIMATED, APPROVED, IN_WORK)),
    _closing(IN_WORK, REPAIRED),
    *(
        Way(one, CANCEL, CANCELLED, DESK, THEIRS, "", ("reason", *GIVEN_UP, *UNPROVEN))
        for one in BEFORE_CLOSING
    ),
    *(
        Way(one, CANCEL, CANCELLED, DESK, ONLY_OWN, "", ("reason", *GIVEN_UP))
        for one in BEFORE_CLOSING
    ),
    Way(
        CLOSED,
        HAND_BACK,
        HANDED_BACK,
        DESK,
        THEIRS,
        "",
        ("taken-by", "things", "notice-signed", "recalls-told"),
        (*STEP, "work.HandBack"),
    ),
    Way(
        CLOSED,
        KEEP,
        TAKEN_OVER,
        OWNER_SEAT,
        THEIRS,
        "",
        ("reason", "notices", "recalls-told"),
        (*STEP, "floor.Stay"),
    ),
)


def ways_from(state: str, purpose: str) -> list[Way]:
    return [way for way in WAYS if way.origin == state and purpose in way.purposes]


def deeds_of(state: str, purpose: str) -> frozenset[str]:
    """What may be done next with a job in this state."""
    return frozenset(way.deed for way in ways_from(state, purpose))


def way_of(state: str, deed: str, purpose: str, outcome: str = "") -> Way | None:
    """The one way that a deed takes from a state, for a job of this purpose, or None."""
    for way in ways_from(state, purpose):
        if way.deed == deed and way.outcome == outcome:
            return way
    return None


def outcomes_of(state: str, purpose: str) -> list[str]:
    """The outcomes a job in this state may be closed with, in the order they are offered."""
    found = {way.outcome for way in ways_from(state, purpose) if way.deed == CLOSE}
    return [one for one in OUTCOMES if one in found]
