"""What a machine of ours still needs before it may leave by one of the exits.

Which exit asks for which conditions is data (``exits.toml``); what each condition means is here.
Source: common practice, no published source, except the recall: selling a recalled product is
unlawful in the US (15 U.S.C. 2068), for second-hand sellers too, so nothing overrides it.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime, timedelta
from decimal import Decimal

from shop.resale.domain.exits import Exit, Need

RECALL_CHECK_DAYS = 30  # shop default: how long a look at the list of recalls counts
UNKNOWN_SUPPORT = frozenset({"not-asked", "no-answer"})
STALE = ", stale"


@dataclass(frozen=True)
class Disclosed:
    """What the newest paper of an exit told: faults, and what was known of the parts."""

    faults: tuple[tuple[str, str], ...]
    support: str


@dataclass(frozen=True)
class Facts:
    """What is known of one machine on ``on``; instants are aware, days are the shop's own.

    ``inspected_at``, ``tested_at`` and ``sale_photos`` count since the machine came;
    ``recalls_open`` are the numbers of notices that may mean it and that nobody decided on;
    ``worked_at`` is when a part or time was last written on any job of it; ``standing`` names
    the components that are not sound and not cleared, ``safety`` those of them that hold it,
    ``faults`` each component with what is wrong with it. ``held_through`` is the last day of a
    dealer's holding period; ``reserved_for`` whoever left a deposit. ``papers`` are by exit,
    ``waived`` by exit and condition: the names that each waiver spoke of.
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
    safety: Sequence[str] = ()
    faults: Sequence[tuple[str, str]] = ()
    support: str = "not-asked"
    support_fresh: bool = False
    support_given_on: date | None = None
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
    held_through: date | None = None
    reserved_for: str = ""
    reserved_until: date | None = None
    papers: Mapping[str, Disclosed] = field(default_factory=dict)
    waived: Mapping[tuple[str, str], Sequence[frozenset[str]]] = field(default_factory=dict)
    disclosed: Disclosed | None = None

    @property
    def recall_age(self) -> int:
        """Days since the list of recalls was read for this machine."""
        return (self.on - self.recall_checked_on).days

    @property
    def support_said(self) -> str:
        """What a paper that is written now tells of the parts."""
        old = self.support not in UNKNOWN_SUPPORT and not self.support_fresh
        return f"{self.support}{STALE}" if old else self.support

    @property
    def support_disclosed(self) -> bool:
        """Whether the buyer reads that parts are not known, or known from an old word only."""
        return self.disclosed is not None and self.disclosed.support == self.support_said


@dataclass(frozen=True)
class Gap:
    """A condition that is not met, the names that its sentence speaks of, and whether the owner
    may let it pass."""

    key: str
    names: tuple[str, ...] = ()
    waivable: bool = False


@dataclass(frozen=True)
class Condition:
    key: str
    fails: Callable[[Facts], bool]
    names: Callable[[Facts], Sequence[str]] = lambda facts: ()


def held_through(came_on: date, days: int) -> date | None:
    """The last day on which a machine that was bought on ``came_on`` is held for so many days."""
    return came_on + timedelta(days=days - 1) if days else None


def _below_floor(facts: Facts) -> bool:
    return facts.price is not None and facts.price < facts.floor and not facts.price_reason


def _tested_before_work(facts: Facts) -> bool:
    return (
        facts.tested_at is not None
        and facts.worked_at is not None
        and facts.tested_at < facts.worked_at
    )


def _told_otherwise(facts: Facts) -> bool:
    """What stands now is not what the paper says; an answer that only grew old changes nothing."""
    told = facts.disclosed
    if told is None:
        return False
    same = told.support.removesuffix(STALE) == facts.support
    return not same or set(told.faults) != set(facts.faults)


# In the order in which a person would see to them.
CONDITIONS = (
    Condition("reserved", lambda facts: bool(facts.reserved_for)),
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
    Condition(
        "holding", lambda facts: facts.held_through is not None and facts.on <= facts.held_through
    ),
    Condition("inspection", lambda facts: facts.inspected_at is None),
    Condition("open-job", lambda facts: bool(facts.open_job), lambda facts: [facts.open_job]),
    Condition("safety", lambda facts: bool(facts.safety), lambda facts: facts.safety),
    Condition("findings", lambda facts: bool(facts.standing), lambda facts: facts.standing),
    Condition("test", lambda facts: facts.tested_at is None),
    Condition("test-failed", lambda facts: facts.tested_at is not None and not facts.test_passed),
    Condition("test-old", _tested_before_work),
    Condition(
        "support", lambda facts: facts.support in UNKNOWN_SUPPORT and not facts.support_disclosed
    ),
    Condition(
        "support-stale",
        lambda facts: (
            facts.support not in UNKNOWN_SUPPORT
            and not facts.support_fresh
            and not facts.support_disclosed
        ),
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
    Condition("terms", lambda facts: facts.disclosed is None),
    Condition("terms-old", _told_otherwise),
)
KNOWN = {condition.key: condition for condition in CONDITIONS}


def gaps(facts: Facts, way: Exit) -> list[Gap]:
    """Every condition of the exit that is neither met nor waived; empty when it may leave so."""
    facts = replace(facts, disclosed=facts.papers.get(way.key))
    found = [_gap(KNOWN[need.condition], need, facts) for need in way.needs]
    return [gap for gap in found if gap and not _waived(gap, way, facts)]


def _gap(condition: Condition, need: Need, facts: Facts) -> Gap | None:
    if not condition.fails(facts):
        return None
    return Gap(condition.key, tuple(condition.names(facts)), need.waivable)


def _waived(gap: Gap, way: Exit, facts: Facts) -> bool:
    """What came to be named after the owner's word is not covered by it."""
    words = facts.waived.get((way.key, gap.key), ())
    return gap.waivable and any(set(gap.names) <= names for names in words)
