"""What is believed before the shop has outcomes and sales of its own, from ``lots.toml``."""

from shop.lots.domain.assumptions import table
from shop.lots.domain.inputs import Market, Odds, Price, Rule
from shop.lots.domain.reserve import LogNormalReserve

CLUB, HOME = "club", "home"
WEARS, CRITICAL, OTHERS = "wears", "critical", "others"


def stated_odds(key: str, source: str, slug: str, sort: str) -> Odds:
    """The odds of a component of a machine from a club or a home.

    ``sort`` is what its kind says of it: that it wears, is critical, or neither.
    """
    chances, counts = table()["odds"][source], table()["odds"]["counts_as"]
    chance = chances.get(slug, chances[sort])
    return Odds(key, counts * chance, counts * (1 - chance))


def stated_market(price: float) -> Market:
    """How a model sells of which only a price is known or guessed."""
    figures = dict(table()["market"])
    level_sd, own_sd = figures.pop("level_sd"), figures.pop("own_sd")
    return Market(Price(price, level_sd, own_sd), **figures)


def stated_rules() -> tuple[Rule, ...]:
    """Components that are replaced together; a model without them is left alone."""
    return tuple(Rule(tuple(row["when"]), row["then"]) for row in table()["pairs"])


def stated_reserve(asked: float | None, worth: float) -> LogNormalReserve | None:
    """What a seller would take: by what he asks, else by what the lot is worth to us.

    None where it is worth nothing and no price was asked: then there is nothing to offer.
    """
    figures = table()["reserve"]
    shown = figures["share_of_asked"] * asked if asked else figures["share_of_worth"] * worth
    return LogNormalReserve(shown, figures["sd"]) if shown > 0 else None
