from random import Random

import pytest

from parts.answers.domain.simulation import Told, World, one_shop, reliability

KNOWN = {"supported": 0.25, "back-ordered": 3.0, "listing": 0.8}


def test_of_a_shop_with_known_rates_the_odds_come_true_on_average():
    # Means of 20 shops' predictions against what came true, within four standard errors.
    random = Random(7)
    told = [one for _shop in range(20) for one in one_shop(World(KNOWN, subjects=30), random)]
    for word in KNOWN:
        of_word = [one for one in told if one.word == word]
        [whole] = reliability(of_word, width=1.0)
        assert whole.held == pytest.approx(whole.mean, abs=4 * whole.error)


def test_a_word_that_changes_often_is_given_less_time():
    random = Random(3)
    told = one_shop(World(KNOWN), random)
    mean = {word: sum(one.predicted for one in told if one.word == word) / 60 for word in KNOWN}
    assert mean["back-ordered"] < mean["listing"] < mean["supported"]


def test_predictions_are_binned_by_size():
    told = [Told("listing", 0.05, False), Told("listing", 0.95, True), Told("listing", 1.0, True)]
    low, high = reliability(told)
    assert (low.low, low.count, low.held) == (0.0, 1, 0.0)
    assert (high.count, high.held, high.mean) == (2, 1.0, pytest.approx(0.975))
