"""What is known of the support of a model, as of a day and as of a state of knowledge."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from decimal import Decimal

NOT_ASKED = "not-asked"
NO_ANSWER = "no-answer"
SUPPORTED = "supported"
LIMITED = "limited"
BACK_ORDERED = "back-ordered"
SUPERSEDED = "superseded"
ENDED = "ended"
NOTICE, RETURN = "notice", "return"
MAKER = "maker"
# How narrowly an answer speaks: of the whole model, of one component, of one part.
OF_MODEL, OF_COMPONENT, OF_PART = 0, 1, 2


@dataclass(frozen=True)
class Said:
    """One recorded answer. It counts from ``counts_from``, a notice possibly later than it came.

    ``party`` is the supplier or workshop of every ``route`` but the maker's; ``cost`` is for one
    piece; ``replaced_by`` is the id of the part that a superseded one became.
    """

    id: int
    status: str
    given_on: date
    given_by: str
    channel: str
    recorded_at: datetime
    counts_from: date
    warranty: str = "unknown"
    until: date | None = None
    withdrawn_at: datetime | None = None
    breadth: int = OF_MODEL
    route: str = MAKER
    party: str = ""
    dealer_only: bool = False
    cost: Decimal | None = None
    lead_days: int | None = None
    replaced_by: int | None = None

    @property
    def silent(self) -> bool:
        """Asked, and nobody answered; an order that went back did say something."""
        return self.status == NO_ANSWER and self.channel != RETURN


@dataclass(frozen=True)
class Freshness:
    """Days an answer stays fresh by the way it came; ``None`` is for ever."""

    days: int | None
    back_order_days: int | None


@dataclass(frozen=True)
class Support:
    """The answer that decides, and how old it is.

    ``status`` is that of the answer or ``not-asked``; ``age_days`` counts from ``given_on``;
    ``stale_from`` is the first day on which it no longer counts, ``None`` for never. What is not
    ``fresh`` is stale and never a yes.
    """

    status: str
    given_on: date | None = None
    given_by: str = ""
    channel: str = ""
    age_days: int | None = None
    fresh: bool = False
    warranty: str = "unknown"
    until: date | None = None
    answer_id: int | None = None
    stale_from: date | None = None
    answer: Said | None = None

    @property
    def asked(self) -> bool:
        return self.status != NOT_ASKED

    @property
    def known(self) -> bool:
        """That somebody answered, whatever he said."""
        return self.status not in (NOT_ASKED, NO_ANSWER)


def support(
    answers: Iterable[Said],
    on: date,
    rules: Mapping[str, Freshness],
    known_at: datetime | None = None,
) -> Support:
    """What one route offers on a day, by what had been written down at ``known_at``.

    Of the answers written down by then, not withdrawn by then and counting on that day, the one
    that :func:`decides` is believed. ``known_at=None`` uses all that is written down. Answers of
    different routes are never mixed: see :func:`by_route`.
    """
    counting = [a for a in answers if a.counts_from <= on and _stood(a, known_at)]
    # A call that nobody answered takes back nothing that was said before.
    counting = [a for a in counting if not a.silent] or counting
    if not counting:
        return Support(NOT_ASKED)
    newest = max(counting, key=decides)
    stale_from = _stale_from(newest, rules)
    return Support(
        status=newest.status,
        given_on=newest.given_on,
        given_by=newest.given_by,
        channel=newest.channel,
        age_days=(on - newest.given_on).days,
        fresh=stale_from is None or on < stale_from,
        warranty=newest.warranty,
        until=newest.until,
        answer_id=newest.id,
        stale_from=stale_from,
        answer=newest,
    )


def decides(answer: Said) -> tuple:
    """The order in which answers of one route outdo each other; the greatest decides.

    In strict order: the later effective day, the narrower subject (part, component, model), the
    newer word. A received order is an answer of the day on which it came: it proves that day.
    """
    return (
        answer.counts_from,
        answer.breadth,
        answer.given_on,
        answer.recorded_at,
        answer.id,
    )


def by_route(answers: Iterable[Said]) -> dict[tuple[str, str], list[Said]]:
    """``{(route, party): answers}``: what the maker said and what each other one said, apart."""
    found: dict[tuple[str, str], list[Said]] = {}
    for one in answers:
        found.setdefault((one.route, one.party), []).append(one)
    return found


def _stood(answer: Said, known_at: datetime | None) -> bool:
    if known_at is None:
        return answer.withdrawn_at is None
    withdrawn = answer.withdrawn_at is not None and answer.withdrawn_at <= known_at
    return answer.recorded_at <= known_at and not withdrawn


def _stale_from(answer: Said, rules: Mapping[str, Freshness]) -> date | None:
    """The first stale day. A published end never ages; a promised back-order ends with its day."""
    if answer.status == ENDED and answer.channel == NOTICE:
        return None
    rule = rules[answer.channel]
    open_ended = answer.status == BACK_ORDERED and answer.until is None
    days = rule.back_order_days if open_ended else rule.days
    aged = None if days is None else answer.given_on + timedelta(days=days + 1)
    lapsed = answer.until + timedelta(days=1) if answer.until else None
    return min((day for day in (aged, lapsed) if day), default=None)
