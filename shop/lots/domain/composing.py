"""From what is known of a model to what its machines are valued by.

Offers and words come from the parts house, odds from what was looked at, prices from sales; what
nobody told is taken from ``lots.toml``.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from parts.answers.domain.support import ENDED, NO_ANSWER
from parts.support.domain.coverage import Need
from parts.support.domain.routes import DONOR, SHELF, Offer
from shop.floor.domain.worth import TENTH, Worth
from shop.lots.domain.assumptions import table
from shop.lots.domain.haul import Load
from shop.lots.domain.inputs import Component, Market, Model, Odds, Price, Route
from shop.lots.domain.priors import CRITICAL, OTHERS, WEARS, stated_market, stated_rules

LEAST_CHANCE = 0.02  # a route less likely is none
MAKER = "maker"


@dataclass(frozen=True)
class PlaceFacts:
    """What is known of one component of a model: odds, bench minutes, and the ways to a part."""

    slug: str
    wears: bool
    critical: bool
    odds: Odds
    minutes: float
    needs: tuple[Need, ...] = ()

    @property
    def sort(self) -> str:
        """What it is to its kind; one that wears counts as such even if it is critical too."""
        return WEARS if self.wears else CRITICAL if self.critical else OTHERS


@dataclass(frozen=True)
class ModelFacts:
    """What is known of a model. ``had`` is the chance that its maker still has parts where nobody
    answered; ``met`` how many of its machines the shop meets a year; ``few`` says that the lot has
    one of it, so that a piece on the shelf serves it; ``maker`` is whom to call."""

    key: str
    kind: str
    maker: str
    places: tuple[PlaceFacts, ...]
    market: Market
    had: float
    met: float = 0.0
    mass: float | None = None
    few: bool = False


def model_of(facts: ModelFacts) -> Model:
    """The model as the valuation wants it."""
    load = load_of(facts.kind, facts.mass)
    scrap, donors = table()["scrap"], table()["donors"]
    return Model(
        facts.key,
        facts.kind,
        tuple(component_of(place, facts) for place in facts.places),
        facts.market,
        rules=tuple(one for one in stated_rules() if _has(facts, one.then)),
        scrap=load.mass * scrap["per_kg"],
        disposal=scrap["disposal"],
        strip_minutes=donors["strip_minutes"],
        load=load,
    )


def _has(facts: ModelFacts, slug: str) -> bool:
    return any(place.slug == slug for place in facts.places)


def load_of(kind: str, mass: float | None) -> Load:
    """What a machine weighs and takes up, its own mass before that of its kind."""
    usual, floor = table()["loads"].get(kind, (100.0, 1.5))
    return Load(mass or usual, floor)


def component_of(place: PlaceFacts, facts: ModelFacts) -> Component:
    price = facts.market.price.mean
    guess = part_cost(place, price)
    safety = place.slug in table()["lesser"]["safety"]
    routes = list(routes_of(place, facts, guess))
    if place.sort == OTHERS and not safety:
        routes.append(Route("left", 1.0, table()["lesser"]["takes"] * price))
    return Component(
        place.slug,
        place.odds,
        place.minutes,
        tuple(routes),
        safety=safety,
        spare=spare_worth(place, facts.met, guess),
    )


def part_cost(place: PlaceFacts, price: float) -> float:
    """What a part is taken to cost, in money, where nobody named its price."""
    shares = table()["part_costs"]
    return shares.get(place.slug, shares[place.sort]) * price


def spare_worth(place: PlaceFacts, met: float, cost: float) -> float:
    """What a sound piece is worth on our shelf: what it saves, times the chance that it is wanted
    while it may lie there. Wants are taken to come as a Poisson stream."""
    donors = table()["donors"]
    chance = place.odds.alpha / (place.odds.alpha + place.odds.beta)
    wants = donors["years"] * (met + donors["machines"]) * chance
    return donors["saves"] * cost * -math.expm1(-wants)


def routes_of(place: PlaceFacts, facts: ModelFacts, guess: float) -> Iterator[Route]:
    """Every way to a component, each once, at its lowest cost.

    Where several positions need a part of their own the least likely one decides, and the parts of
    the others are paid for as well.
    """
    found: dict[str, Route] = {}
    needs = place.needs or (Need(()),)
    asked = [list(_asked(place, need, facts, guess)) for need in needs]
    worst = min(asked, key=_any_of)
    for route in [*worst, *_usual(place, asked, facts, guess)]:
        others = sum(
            min((one.cost for one in way), default=guess) for way in asked if way is not worst
        )
        cost = route.cost + others
        if route.key not in found or cost < found[route.key].cost:
            found[route.key] = Route(route.key, route.chance, cost, route.call)
    yield from found.values()


def _any_of(routes: Sequence[Route]) -> float:
    """The chance that any is open, were they independent."""
    return 1 - math.prod(1 - one.chance for one in routes)


def _asked(place: PlaceFacts, need: Need, facts: ModelFacts, guess: float) -> Iterator[Route]:
    """The ways that somebody told of, or could be asked about."""
    for offer in need.offers:
        if offer.route in (SHELF, DONOR) and not facts.few:
            continue
        chance = _chance(offer, facts.had)
        if chance >= LEAST_CHANCE:
            cost = guess if offer.cost is None else float(offer.cost * need.quantity)
            cost = 0.0 if offer.route == DONOR else cost
            yield Route(_key(offer, place, facts), chance, cost, _call(offer, facts))


def _chance(offer: Offer, had: float) -> float:
    if offer.route in (SHELF, DONOR):
        return 1.0
    if offer.status == NO_ANSWER:
        return had
    return 1 - offer.holds if offer.status == ENDED else offer.holds


def _key(offer: Offer, place: PlaceFacts, facts: ModelFacts) -> str:
    """One word on the whole model is one fate for all its components."""
    if offer.route in (SHELF, DONOR):
        return f"{offer.route}/{facts.key}/{place.slug}"
    if offer.part is not None:
        return f"{offer.route}/{offer.party}/part {offer.part}"
    about = facts.key if offer.breadth == 0 else f"{facts.key}/{place.slug}"
    return f"{offer.route}/{offer.party}/{about}"


def _call(offer: Offer, facts: ModelFacts) -> str:
    if offer.route in (SHELF, DONOR):
        return ""
    return facts.maker if offer.route == MAKER else offer.party


def _usual(place, asked: Sequence[Sequence[Route]], facts, guess: float) -> Iterator[Route]:
    """The stated ways that nobody was asked about for this component."""
    told = {route.key.split("/")[0] for way in asked for route in way}
    for way in table()["ways"]:
        if place.slug in way["places"] and way["route"] not in told:
            key = f"{way['route']}/usual/{facts.key}/{place.slug}"
            yield Route(key, way["chance"], way["times"] * guess, way.get("call", ""))


def market_of(worth: Worth, spread: float, months: Iterable[float] = ()) -> Market:
    """How a model sells: ``worth`` from sales and belief, ``spread`` that of the logarithm of
    prices of one model, ``months`` that its machines stood for sale.

    The middle of a lognormal lies below its mean.
    """
    low, middle = float(worth.low), float(worth.middle)
    total = math.log(middle / low) / TENTH if low > 0 else spread
    level = math.sqrt(max(total**2 - spread**2, 0.0))
    stated = stated_market(middle)
    price = Price(middle * math.exp((level**2 + spread**2) / 2), level, spread)
    return Market(
        price, shrunk_months(stated.months, months), stated.falls, stated.slows, stated.months_sd
    )


def shrunk_months(stated: float, months: Iterable[float]) -> float:
    """The mean time to sell, on the logarithm, the stated one weighed as so many sales."""
    logs = [math.log(max(one, 1 / 30)) for one in months]
    counts = table()["selling"]["counts_as"]
    return math.exp((counts * math.log(stated) + sum(logs)) / (counts + len(logs)))
