"""From the evidence to the offers of one component."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import ROUND_HALF_UP, Decimal

from parts.answers.domain.odds import Odds, stated
from parts.answers.domain.support import MAKER, NOT_ASKED, SUPERSEDED, Said, Support, by_route
from parts.support.domain.routes import (
    DONOR,
    HELD,
    SAME_SIZE,
    SHELF,
    SISTER,
    STANDARD,
    STANDARD_SIZE,
    Core,
    Offer,
)

LATER = "superseded"

MILLIONTH = Decimal("0.000001")

Judge = Callable[[Sequence[Said]], Support]


@dataclass(frozen=True)
class Fitted:
    """A part that fits: its id and number, how it comes to fit, its standard designation, and
    where it goes if the parts list says so."""

    part: int
    number: str
    via: str = "fits"
    quantity: Decimal = Decimal(1)
    designation: str = ""
    position: str = ""


@dataclass(frozen=True)
class Shelved:
    """What lies on the shelf of one part, and what the next one of it cost."""

    on_hand: Decimal
    cost: Decimal | None


@dataclass(frozen=True)
class Donated:
    """A piece that a donor gave or still bears, by the donor's serial; ``via`` tells whether the
    donor is of a sister model."""

    serial: str
    grade: str = ""
    via: str = "fits"


@dataclass(frozen=True)
class Known:
    """All that is known of one component of one model; ``cores`` by the answer that offered."""

    wide: Sequence[Said] = ()  # of the model and of the component
    by_part: Mapping[int, Sequence[Said]] = field(default_factory=dict)
    fitted: Sequence[Fitted] = ()
    shelf: Mapping[int, Shelved] = field(default_factory=dict)
    donors: Sequence[Donated] = ()
    cores: Mapping[int, Core] = field(default_factory=dict)


def cost_for_one(quantity: Decimal, cost: Decimal) -> Decimal:
    """What one piece of a delivery cost, to the millionth, half up."""
    return (cost / quantity).quantize(MILLIONTH, ROUND_HALF_UP)


def offers_of(known: Known, judge: Judge, odds: Odds, unasked: float) -> list[Offer]:
    """Every way to a component. ``judge`` gives the support that a route's answers come to on the
    day; ``unasked`` is the chance that a maker never asked would say yes."""
    offers = [*_here(known), *_standard(known.fitted)]
    covering = [one for one in known.fitted if one.via not in (SISTER, SAME_SIZE)]
    for fitted in covering or [None]:
        told = known.by_part.get(fitted.part, ()) if fitted else ()
        offers += _answered([*known.wide, *told], fitted, judge, odds)
    for fitted in known.fitted:
        if fitted.via in (SISTER, SAME_SIZE):
            offers += _answered(known.by_part.get(fitted.part, ()), fitted, judge, odds)
    offers = [replace(one, core=known.cores.get(one.answer_id)) for one in _resolved(offers)]
    if not any(one.route == MAKER for one in offers):
        offers.append(Offer(MAKER, NOT_ASKED, fresh=False, holds=unasked))
    return list(dict.fromkeys(offers))


def _resolved(offers: list[Offer]) -> list[Offer]:
    """A number that became another says nothing once somebody spoke of the later one: the end of
    the chain decides."""
    later = {one.route for one in offers if one.via == LATER and one.answer_id is not None}
    return [one for one in offers if one.status != SUPERSEDED or one.route not in later]


def _here(known: Known) -> Iterable[Offer]:
    for one in known.fitted:
        shelved = known.shelf.get(one.part)
        if shelved and shelved.on_hand >= one.quantity:
            yield Offer(SHELF, HELD, "", one.part, one.number, one.via, shelved.cost, 0)
    for donor in known.donors:
        yield Offer(DONOR, HELD, donor.serial, via=donor.via, lead_days=0, told=donor.grade)


def _standard(fitted: Sequence[Fitted]) -> Iterable[Offer]:
    sizes = dict.fromkeys(one.designation for one in fitted if one.designation)
    for size in sizes:
        holds = stated()["standard_size"]
        yield Offer(STANDARD, STANDARD_SIZE, number=size, via=SAME_SIZE, holds=holds)


def _answered(told: Sequence[Said], fitted: Fitted | None, judge: Judge, odds: Odds):
    for (route, party), answers in by_route(told).items():
        support = judge(answers)
        if support.asked:
            yield _offer(route, party, fitted, support, odds)


def _offer(route: str, party: str, fitted: Fitted | None, support: Support, odds: Odds) -> Offer:
    said = support.answer
    narrow = fitted and said.breadth == 2
    return Offer(
        route=route,
        status=support.status,
        party=party,
        part=fitted.part if narrow else None,
        number=fitted.number if narrow else "",
        via=fitted.via if narrow else "fits",
        cost=said.cost,
        lead_days=_lead(said, support),
        answered_on=support.given_on,
        age_days=support.age_days,
        fresh=support.fresh,
        holds=odds.holds(support.status, support.channel, support.age_days),
        answer_id=support.answer_id,
        breadth=said.breadth,
        until=support.until,
        dealer_only=said.dealer_only,
        told=support.given_by,
    )


def _lead(said: Said, support: Support) -> int | None:
    """Days to come from the day asked about; a back-order comes no sooner than its day."""
    if support.until is None:
        return said.lead_days
    waits = (support.until - _day_of(support)).days
    return max(waits, said.lead_days or 0)


def _day_of(support: Support) -> date:
    return date.fromordinal(support.given_on.toordinal() + support.age_days)
