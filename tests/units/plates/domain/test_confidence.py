import math
import random

import pytest

from units.plates.domain.confidence import fit


def sigmoid(x):
    return 1 / (1 + math.exp(-x))


def test_a_fit_finds_the_chances_that_made_the_rows():
    """Rows are drawn from a known logistic law; the fit must give its chances back."""
    draw = random.Random(4)
    rows = []
    for _row in range(6000):
        features = {"gap": draw.uniform(-2, 2), "noise": draw.uniform(-1, 1)}
        rows.append(("serial", features, draw.random() < sigmoid(0.5 + 1.5 * features["gap"])))

    found = fit(rows)["serial"]

    def chance(gap, noise):
        total = found["constant"]
        for feature, value in (("gap", gap), ("noise", noise)):
            centre, spread = found["scales"][feature]
            total += found["weights"][feature] * (value - centre) / spread
        return sigmoid(total)

    assert chance(0, 0) == pytest.approx(sigmoid(0.5), abs=0.03)
    assert chance(1, 0) == pytest.approx(sigmoid(2.0), abs=0.03)
    assert chance(1, 1) == pytest.approx(chance(1, -1), abs=0.04)


def test_a_feature_that_parts_all_rows_stays_finite():
    rows = [("model", {"gap": float(at)}, at > 10) for at in range(20)]

    found = fit(rows)["model"]

    assert all(math.isfinite(weight) for weight in found["weights"].values())
