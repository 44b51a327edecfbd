"""Published figures on deciding and on buying lots: the expected value of perfect information
(liquisearch, “Expected value of perfect information”, example), and a lump-sum purchase by relative
value (accountingtools.com, “lump-sum purchase”; xplaind.com, 746066). Figures only."""

from decimal import Decimal

import numpy as np
import pytest

from shop.lots.domain.knowing import Acts, worth_of_answer, worth_of_everything
from shop.lots.domain.splitting import split_lump

# Stock, fund and deposit in the three states, whose chances are 0.5, 0.3 and 0.2.
PAYS = np.array([[1500, 300, -800], [900, 600, -200], [500, 500, 500]], float)
STATES = np.repeat([0, 1, 2], [10, 6, 4])  # each state in both halves of the draws, as often
ACTS = Acts(np.eye(3), np.zeros(3))


def test_the_best_act_without_information_is_worth_680():
    means = PAYS[:, STATES].mean(axis=1)
    assert means.max() == pytest.approx(680)


def test_perfect_information_is_worth_350():
    assert worth_of_everything(PAYS[:, STATES], ACTS).value == pytest.approx(1030 - 680)


def test_an_answer_that_tells_the_state_is_worth_350():
    assert worth_of_answer(PAYS[:, STATES], STATES, ACTS).value == pytest.approx(350)


@pytest.mark.parametrize(
    ("price", "values", "published"),
    [
        pytest.param(1_000_000, [250_000, 800_000], [238_095, 761_905], id="accountingtools"),
        pytest.param(500_000, [44_000, 32_000, 324_000], [55_000, 40_000, 405_000], id="xplaind"),
        pytest.param(90_000, [30_000, 70_000], [27_000, 63_000], id="two things"),
    ],
)
@pytest.mark.parametrize("direct", [0, 1_000])
def test_a_lump_is_split_by_relative_value(price, values, published, direct):
    shares = split_lump(
        Decimal(price - direct), Decimal(direct), {at: Decimal(v) for at, v in enumerate(values)}
    )
    assert [round(share) for share in shares.values()] == published
    assert sum(shares.values()) == price
