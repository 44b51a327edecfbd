import pytest

from shop.lots.domain.study_table import rows_of
from shop.lots.domain.studying import Judged, Truth


def one(learnt=0, rank=0.5, net=900.0, bid=500.0, rule=450.0):
    """A lot that the seller leaves for 400; one who knows its worth pays 420."""
    truth = Truth(1000.0, 400.0, net, 0.0)
    offers = {"bid": bid, "free_bid": bid, "rule": rule, "free_rule": rule, "knowing": 420.0}
    return Judged(learnt, rank, truth, offers)


def test_what_a_stage_shows_by_hand():
    lives = [[one(), one(rank=0.95, bid=300.0)], [one(rank=0.2), one(rank=0.89)]]
    (row,) = rows_of(lives)
    assert row.held.value == 0.75
    assert (row.won, row.held_won.value) == (3, 1)
    assert row.ranks == [0, 0, 1, 0, 0, 1, 0, 0, 1, 1]
    # First shop: 400 + 0 against 2 x 450; second 800 against 900.
    assert row.over_rule.value == pytest.approx((-500 - 100) / 2)
    assert row.regrets["bid"] == pytest.approx((1 - 1200 / (4 * 480), 1 - 1200 / (4 * 500)))


def test_stages_stand_apart_in_their_order():
    lives = [[one(5), one(0)], [one(5), one(0)]]
    assert [row.learnt for row in rows_of(lives)] == [0, 5]


def test_a_shop_that_buys_nothing_has_nothing_held():
    lives = [[one(bid=10.0)], [one(bid=10.0)]]
    (row,) = rows_of(lives)
    assert (row.won, row.held_won) == (0, None)


def test_where_nothing_could_be_gained_nothing_is_regretted():
    poor = one(net=100.0, bid=10.0, rule=10.0)
    poor = Judged(0, 0.5, poor.truth, {**poor.offers, "knowing": 0.0})
    lives = [[poor], [poor]]
    assert rows_of(lives)[0].regrets["bid"] == (0.0, 0.0)
