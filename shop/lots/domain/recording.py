"""A valuation as it is kept: its inputs as plain values, its figures, and the versions of all else.

What was kept is reckoned again from its inputs alone; figures that come out otherwise are explained
by the versions that differ.
"""

import hashlib
import platform
from collections.abc import Mapping
from dataclasses import asdict
from functools import cache
from pathlib import Path

import numpy as np

from shop.lots.domain.asking import Advice
from shop.lots.domain.assumptions import TABLE, Assumptions
from shop.lots.domain.bidding import Bid, Conditions
from shop.lots.domain.haul import HaulTable, Load, Site
from shop.lots.domain.inputs import (
    FATES,
    Component,
    Goods,
    Lot,
    Machine,
    Market,
    Model,
    Odds,
    Price,
    Route,
    Rule,
)
from shop.lots.domain.prices import Terms

CENTS = 2


def lot_as_plain(lot: Lot) -> dict:
    """Every model once; a machine names its model by place."""
    models = list({id(one.model): one.model for one in lot.machines}.values())
    places = {id(model): place for place, model in enumerate(models)}
    return {
        "models": [asdict(model) for model in models],
        "machines": [
            {
                "key": one.key,
                "model": places[id(one.model)],
                "found": dict(one.found),
                "ran": one.ran,
                "by_odds": one.by_odds,
            }
            for one in lot.machines
        ],
        "assumptions": asdict(lot.assumptions),
        "goods": [asdict(one) for one in lot.goods],
        "site": asdict(lot.site),
        "other_costs": lot.other_costs,
    }


def lot_of_plain(kept: Mapping) -> Lot:
    """The lot that was kept, from JSON as well."""
    models = [_model(one) for one in kept["models"]]
    machines = [Machine(**{**one, "model": models[one["model"]]}) for one in kept["machines"]]
    return Lot(
        tuple(machines),
        _assumptions(kept["assumptions"]),
        tuple(_goods(one) for one in kept["goods"]),
        Site(**kept["site"]),
        kept["other_costs"],
    )


def _model(kept: Mapping) -> Model:
    market = {**kept["market"], "price": Price(**kept["market"]["price"])}
    return Model(
        **{
            **kept,
            "components": tuple(_component(one) for one in kept["components"]),
            "market": Market(**market),
            "rules": tuple(Rule(tuple(one["when"]), one["then"]) for one in kept["rules"]),
            "load": Load(**kept["load"]),
        }
    )


def _component(kept: Mapping) -> Component:
    routes = tuple(Route(**one) for one in kept["routes"])
    return Component(**{**kept, "odds": Odds(**kept["odds"]), "routes": routes})


def _goods(kept: Mapping) -> Goods:
    return Goods(**{**kept, "price": Price(**kept["price"]), "load": Load(**kept["load"])})


def _assumptions(kept: Mapping) -> Assumptions:
    haul = {**kept["haul"], "crew": tuple(tuple(one) for one in kept["haul"]["crew"])}
    pairs = tuple(tuple(one) for one in kept["dependence"])
    return Assumptions(**{**kept, "dependence": pairs, "haul": HaulTable(**haul)})


def conditions_as_plain(conditions: Conditions) -> dict:
    return asdict(conditions)


def conditions_of_plain(kept: Mapping) -> Conditions:
    return Conditions(**{**kept, "terms": Terms(**kept["terms"])})


@cache
def versions() -> dict[str, str]:
    """What figures depend on beside their inputs: the way of reckoning (the digest of its sources),
    the table of stated figures, numpy and Python."""
    sources = hashlib.sha256()
    for path in sorted(Path(__file__).parent.glob("*.py")):
        sources.update(path.read_bytes())
    return {
        "reckoning": sources.hexdigest()[:12],
        "table": hashlib.sha256(TABLE.read_bytes()).hexdigest()[:12],
        "numpy": np.__version__,
        "python": platform.python_version(),
    }


def other_versions(kept: Mapping[str, str]) -> dict[str, tuple[str, str]]:
    """``{name: (then, now)}`` of what has changed since."""
    now = versions()
    return {
        name: (kept.get(name, ""), now[name]) for name in now if kept.get(name, "") != now[name]
    }


def figures_of(bid: Bid) -> dict:
    """A bid as plain values, in money to the cent, as it is kept, shown and handed out."""
    return {
        "most_to_pay": float(bid.limit.in_money),
        "most_to_pay_error": _money(bid.limit.error),
        "not_even_as_a_gift": bid.limit.not_even_as_a_gift,
        "break_even": _money(bid.break_even.value),
        "break_even_error": _money(bid.break_even.error),
        # Rounded up it could be a cent above the most to pay, which is rounded down.
        "opening": min(_money(bid.opening.offer), float(bid.limit.in_money))
        if bid.opening
        else 0.0,
        "opening_taken": round(bid.opening.taken, 4) if bid.opening else 0.0,
        "opening_profit": _money(bid.opening.profit) if bid.opening else 0.0,
        "price": _money(bid.price),
        "profit": {f"p{share}": _money(value) for share, value in bid.profit.items()},
        "met": round(bid.met, 4),
        "wanted": _money(bid.wanted),
        "by_odds": _money(bid.by_odds),
        "costs": _money(bid.costs),
        "haul": {**asdict(bid.haul), "cost": _money(bid.haul.cost)},
        "profits": {"x": _all_money(bid.profits.x), "y": list(bid.profits.y)},
        "odds": {"x": _all_money(bid.odds.x), "y": list(bid.odds.y)},
        "machines": [
            {
                "model": one.key,
                "count": one.count,
                "worth": _money(one.worth),
                "fates": {
                    fate: round(share, 4) for fate, share in zip(FATES, one.fates, strict=True)
                },
            }
            for one in bid.fated
        ],
        "refusals": [
            {"key": one.key, "like": list(one.like), "change": _money(one.change)}
            for one in bid.refusals
        ],
        "refusable": bid.refusable,
        "drivers": [
            {"key": one.key, "low": _money(one.low), "high": _money(one.high)}
            for one in bid.drivers
        ],
        "driver_draws": bid.driver_draws,
        "net": _all_money(bid.net),
        "worths": {key: _money(worth) for key, worth in bid.worths.items()},
        "calls_first": [_advice(one) for one in bid.advice],
        "askable": bid.askable,
    }


def _advice(one: Advice) -> dict:
    asked = one.question
    return {
        "kind": asked.kind,
        "model": asked.model,
        "about": asked.about,
        "count": asked.count,
        "worth": _money(one.worth.value),
        "error": _money(one.worth.error),
        "tells": one.worth.tells,
        "minutes": asked.minutes,
        "limit_change": _money(one.limit.value),
        "limit_error": _money(one.limit.error),
    }


def _money(value: float) -> float:
    return round(float(value), CENTS)


def _all_money(values) -> list[float]:
    return [_money(value) for value in values]
