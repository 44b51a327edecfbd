"""From what speaks for a reading to how often such readings are right.

A logistic model per field on a few features, fitted on photos whose truth is known
(``manage.py platestudy --fit``) and kept with its version in
``fixtures/reference/plates/confidence.toml``; and vetoes, which no score outvotes.
"""

import math
import tomllib
from collections.abc import Mapping, Sequence
from functools import cache
from pathlib import Path

import numpy as np

from units.plates.domain.proposal import Outcome

TABLE = Path(__file__).parents[3] / "fixtures/reference/plates/confidence.toml"
# Which way each feature can only speak: an unnatural sign is chance, and the feature is left out.
SPEAKS_FOR = {"gap", "fit", "least", "place", "looks", "coded", "height", "known", "maker", "shape"}
SPEAKS_AGAINST = {"doubt", "conflict", "twins", "short", "neighbours"}
# Believed of each such feature until photos say otherwise, and how firmly (a Gaussian prior): few
# photos are read wrongly, and what they do not show must not be taken for nothing.
BELIEVED, FIRMNESS = 0.5, 2.0
STEPS, SMALL = 100, 1e-8
LOOK = 0.10  # below it a proposal misleads more than it helps
VETOED = 0.89


@cache
def fitted() -> dict:
    return tomllib.loads(TABLE.read_text(encoding="utf-8"))


def confidence_of(name: str, features: Mapping[str, float]) -> float:
    """How often a reading with these features is right, 0 to 1. Unknown fields: 0."""
    model = fitted()["fields"].get(name)
    if model is None or not features:
        return 0.0
    total = model["constant"]
    for feature, weight in model["weights"].items():
        centre, spread = model["scales"][feature]
        total += weight * (features.get(feature, centre) - centre) / spread
    return 1 / (1 + math.exp(-max(-30.0, min(30.0, total))))


def outcome_of(confidence: float, vetoed: bool) -> Outcome:
    """What the person has to do with one field."""
    if confidence >= fitted()["sure"] and not vetoed:
        return Outcome.SURE
    return Outcome.LOOK if confidence >= LOOK else Outcome.TYPE


def fit(rows: Sequence[tuple[str, Mapping[str, float], bool]]) -> dict:
    """Fit one logistic model per field by Newton's method, with a prior on its weights.

    ``rows`` are (field, features, right). Gives ``{field: {constant, weights, scales}}``.
    """
    return {name: _fit([row[1:] for row in rows if row[0] == name]) for name in _names(rows)}


def _names(rows) -> list[str]:
    return sorted({row[0] for row in rows})


def _fit(rows: Sequence[tuple[Mapping[str, float], bool]]) -> dict:
    features = sorted({feature for row, _right in rows for feature in row})
    while True:
        model = _newton(rows, features)
        unnatural = {name for name, weight in model["weights"].items() if _unnatural(name, weight)}
        if not unnatural:
            return model
        features = [name for name in features if name not in unnatural]


def _unnatural(name: str, weight: float) -> bool:
    return weight < 0 if name in SPEAKS_FOR else weight > 0 and name in SPEAKS_AGAINST


def _believed(name: str) -> float:
    return BELIEVED * (name in SPEAKS_FOR) - BELIEVED * (name in SPEAKS_AGAINST)


def _newton(rows: Sequence[tuple[Mapping[str, float], bool]], features: Sequence[str]) -> dict:
    table = np.array([[row.get(feature, 0.0) for feature in features] for row, _right in rows])
    table = table.reshape(len(rows), len(features))
    right = np.array([float(right) for _row, right in rows])
    centre, spread = table.mean(axis=0), table.std(axis=0)
    spread[spread < 1e-6] = 1.0
    design = np.column_stack([np.ones(len(table)), (table - centre) / spread])
    believed = np.array([0.0, *map(_believed, features)])
    penalty = np.diag([0.01, *[FIRMNESS] * len(features)])
    weights = np.zeros(design.shape[1])
    for _step in range(STEPS):
        chance = _chances(design, weights)
        slope = design.T @ (right - chance) - penalty @ (weights - believed)
        bend = (design * (chance * (1 - chance))[:, None]).T @ design + penalty
        step = np.linalg.solve(bend, slope)
        while (
            _loss(design, right, weights + step, penalty, believed)
            > _loss(design, right, weights, penalty, believed)
            and np.abs(step).max() > SMALL
        ):
            step = step / 2
        weights = weights + step
        if np.abs(step).max() <= SMALL:
            break
    return {
        "constant": float(weights[0]),
        "weights": dict(zip(features, map(float, weights[1:]), strict=True)),
        "scales": {
            feature: [float(centre[at]), float(spread[at])] for at, feature in enumerate(features)
        },
    }


def _chances(design: np.ndarray, weights: np.ndarray) -> np.ndarray:
    return 1 / (1 + np.exp(-np.clip(design @ weights, -30, 30)))


def _loss(design, right, weights, penalty, believed) -> float:
    """Minus the logarithm of likelihood and prior, but for a constant."""
    total = design @ weights
    surprise = np.logaddexp(0, total) - right * total
    off = weights - believed
    return float(surprise.sum() + off @ penalty @ off / 2)
