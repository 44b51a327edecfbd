"""What a machine of ours still needs before it may be sold at retail.

Source: common practice, no published source, except the recall: selling a recalled product is
unlawful in the US (15 U.S.C. 2068), for second-hand sellers too, so nothing overrides it.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

RECALL_CHECK_DAYS = 30  # shop default: how long a look at the list of recalls counts
UNKNOWN_SUPPORT = frozenset({"not-asked", "no-answer"})


@dataclass(frozen=True)
class Facts:
    """What is known of one machine on ``on``; instants are aware, days are the shop's own.

    ``inspected_at``, ``tested_at`` and ``sale_photos`` count since the machine came;
    ``recalls_open`` are the numbers of notices that may mean it and that nobody decided on;
    ``worked_at`` is when a part or time was last written on any job of it; ``standing`` names
    the components that are not sound and not cleared.
    """

    on: date
    plate_confirmed: bool = False
    recall_outcome: str = ""
    recall_checked_on: date | None = None
    recalls_open: Sequence[str] = ()
    recalls_confirmed: Sequence[str] = ()
    open_job: str = ""
    inspected_at: datetime | None = None
    tested_at: datetime | None = None
    test_passed: bool = False
    worked_at: datetime | None = None
    standing: Sequence[str] = ()
    support: str = "not-asked"
    support_fresh: bool = False
    has_safety_key: bool = False
    safety_key_present: bool = False
    graded: bool = False
    cleaned: bool = False
    sale_photos: int = 0
    plugged_in: bool = False
    supply_known: bool = False
    price: Decimal | None = None
    floor: Decimal | None = None
    price_reason: str = ""

    @property
    def recall_age(self) -> int:
        """Days since the list of recalls was read for this machine."""
        return (self.on - self.recall_checked_on).days


@dataclass(frozen=True)
class Gap:
    """A condition that is not met, and the names that its sentence speaks of."""

    key: str
    names: tuple[str, ...] = ()


@dataclass(frozen=True)
class Condition:
    key: str
    fails: Callable[[Facts], bool]
    names: Callable[[Facts], Sequence[str]] = lambda facts: ()


def _below_floor(facts: Facts) -> bool:
    return facts.price is not None and facts.price < facts.floor and not facts.price_reason


# The retail exit, in the order in which a person would see to it.
RETAIL = (
    Condition("plate", lambda facts: not facts.plate_confirmed),
    # Neither has an override: what nobody decided on holds a machine as surely as a recall.
    Condition(
        "recall-open", lambda facts: bool(facts.recalls_open), lambda facts: facts.recalls_open
    ),
    Condition(
        "recall-confirmed",
        lambda facts: bool(facts.recalls_confirmed),
        lambda facts: facts.recalls_confirmed,
    ),
    Condition("recall-unread", lambda facts: not facts.recall_outcome),
    Condition("recall-fits", lambda facts: facts.recall_outcome == "fits"),
    Condition("recall-unsure", lambda facts: facts.recall_outcome == "unsure"),
    Condition(
        "recall-old",
        lambda facts: facts.recall_outcome == "none" and facts.recall_age > RECALL_CHECK_DAYS,
    ),
    Condition("inspection", lambda facts: facts.inspected_at is None),
    Condition("open-job", lambda facts: bool(facts.open_job), lambda facts: [facts.open_job]),
    Condition("findings", lambda facts: bool(facts.standing), lambda facts: facts.standing),
    Condition("test", lambda facts: facts.tested_at is None),
    Condition("test-failed", lambda facts: facts.tested_at is not None and not facts.test_passed),
    Condition(
        "test-old",
        lambda facts: (
            facts.tested_at is not None
            and facts.worked_at is not None
            and facts.tested_at < facts.worked_at
        ),
    ),
    Condition("support", lambda facts: facts.support in UNKNOWN_SUPPORT),
    Condition(
        "support-stale",
        lambda facts: facts.support not in UNKNOWN_SUPPORT and not facts.support_fresh,
    ),
    Condition("supply", lambda facts: facts.plugged_in and not facts.supply_known),
    Condition("grading", lambda facts: not facts.graded),
    Condition("cleaned", lambda facts: facts.graded and not facts.cleaned),
    Condition(
        "safety-key",
        lambda facts: facts.graded and facts.has_safety_key and not facts.safety_key_present,
    ),
    Condition("photo", lambda facts: facts.sale_photos == 0),
    Condition("price", lambda facts: facts.price is None),
    Condition("price-below", _below_floor),
)


def gaps(facts: Facts) -> list[Gap]:
    """Every condition of the retail exit that is not met; empty when the machine is ready."""
    return [
        Gap(condition.key, tuple(condition.names(facts)))
        for condition in RETAIL
        if condition.fails(facts)
    ]
