"""Small lots to value, of invented models."""

from dataclasses import replace

from shop.lots.domain.assumptions import base_assumptions
from shop.lots.domain.inputs import (
    Component,
    Lot,
    Machine,
    Market,
    Model,
    Odds,
    Price,
    Route,
)

SURE = 1e7  # a beta distribution of so many cases has no spread to speak of


def known(key: str, chance: float) -> Odds:
    """Odds about which there is no doubt."""
    return Odds(key, chance * SURE, (1 - chance) * SURE)


def always(cost: float) -> tuple[Route, ...]:
    return (Route("always", 1.0, cost),)


def component(slug, chance=0.2, cost=100.0, minutes=0.0, routes=None, **more) -> Component:
    routes = always(cost) if routes is None else routes
    return Component(slug, known(slug, chance), minutes, routes, **more)


def model(*components, key="Corvane T9", price=900.0, months=0.0, **more) -> Model:
    """A model whose price is certain and that is scrapped only at a great loss."""
    market = more.pop("market", Market(Price(price), months))
    return Model(key, "treadmill", components, market, **{"disposal": 5000.0, **more})


def plain(**figures):
    """Assumptions without dependence, market, storage and queue, but for ``figures``."""
    still = {
        "dependence": ((0.0, 0.0),),
        "market_sd": 0.0,
        "storage": 0.0,
        "money": 0.0,
        "bench_hours": 1e9,
        "as_is_share": 0.0,
        "donor_falls": 1.0,
    }
    return replace(base_assumptions(), **{**still, **figures})


def lot(*models, assumptions=None, **more) -> Lot:
    """One machine of each model named, in order."""
    machines = tuple(Machine(f"u{at}", one) for at, one in enumerate(models))
    return Lot(machines, assumptions or plain(), **more)
