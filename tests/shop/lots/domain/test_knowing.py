import numpy as np
import pytest

from shop.lots.domain.knowing import (
    Acts,
    Worth,
    at_ask,
    at_offer,
    change_of_limit,
    worth_of_answer,
    worth_of_everything,
)
from shop.lots.domain.prices import Terms
from shop.lots.domain.reserve import TriangularReserve

DRAWS = 40_000


def draws():
    """What a lot is worth, and an answer: 400 less or 400 more, and 300 of noise."""
    source = np.random.default_rng(9)
    answers = source.integers(0, 2, DRAWS)
    return 1000 + 800 * answers - 400 + source.normal(0, 300, DRAWS), answers


def test_an_answer_at_an_ask_is_worth_what_it_saves():
    """Closed form: at an ask of 1,100 the lot is left; told the better half it is bought,
    for 1,400 - 1,100 in half of all cases: 150."""
    net, answers = draws()
    worth = worth_of_answer(net[None], answers, at_ask(1100))
    assert worth.value == pytest.approx(150, abs=4 * worth.error)
    assert worth.tells


def test_an_answer_that_changes_no_act_is_worth_nothing():
    net, answers = draws()
    for ask in (300.0, 2500.0):
        worth = worth_of_answer(net[None], answers, at_ask(ask))
        assert (worth.value, worth.error, worth.tells) == (0, 0, False)


def test_an_answer_that_has_nothing_to_do_with_it_tells_nothing():
    """Over 200 such answers the mean is not above nothing. At an ask that is just what the lot is
    worth, where noise turns the act most easily, about one in thirteen seems to tell."""
    source = np.random.default_rng(10)
    worths = []
    for _ in range(200):
        net, answers = source.normal(1000, 500, 2000), source.integers(0, 8, 2000)
        worths.append(worth_of_answer(net[None], answers, at_ask(1000)))
    values = np.array([one.value for one in worths])
    assert values.mean() <= 2 * values.std() / np.sqrt(200)
    assert np.mean([one.tells for one in worths]) < 0.1


def test_with_an_offer_an_answer_moves_the_offer():
    """Closed form: a reserve with F(p) = (p / 3000)^2 and a lot worth v: the best offer 2 v / 3
    brings 4 v^3 / (27 * 3000^2)."""
    net, answers = draws()
    worth = worth_of_answer(net[None], answers, at_offer(TriangularReserve(0, 3000, 3000)))
    exact = 4 / (27 * 3000**2) * ((600**3 + 1400**3) / 2 - 1000**3)
    assert worth.value == pytest.approx(exact, abs=4 * worth.error + 0.1)


@pytest.mark.parametrize("acts", [at_ask(1100), at_offer(TriangularReserve(0, 900, 3000))])
def test_no_answer_is_worth_less_than_nothing_or_more_than_everything(acts):
    net, answers = draws()
    everything = worth_of_everything(net[None], acts)
    fine = np.digitize(net, np.linspace(0, 2000, 30))
    coarse = worth_of_answer(net[None], answers, acts)
    finer = worth_of_answer(net[None], fine, acts)
    assert coarse.value > -2 * coarse.error
    assert coarse.value <= finer.value + 2 * finer.error
    assert finer.value <= everything.value + 2 * everything.error


def test_the_error_is_how_far_the_worth_strays_from_seed_to_seed():
    source = np.random.default_rng(11)
    worths = []
    for _ in range(300):
        answers = source.integers(0, 2, 2000)
        net = 1000 + 200 * answers + source.normal(0, 300, 2000)
        worths.append(worth_of_answer(net[None], answers, at_ask(1130)))
    spread = np.std([one.value for one in worths])
    assert np.mean([one.error for one in worths]) == pytest.approx(spread, rel=0.15)


def test_an_answer_that_only_one_half_of_the_draws_gives_changes_no_act():
    net = np.array([[100.0, 100.0, 100.0, 100.0, 900.0, 100.0]])
    answers = np.array([0, 0, 0, 0, 1, 0])
    assert worth_of_answer(net, answers, at_ask(500)).value <= 0


def test_the_limit_may_fall_with_an_answer():
    """By hand: of four equal chances the second worst decides, 500, whatever is told; told which
    half it is, it is 100 or 900 at odds of 0.6: on average the same 500. At odds of 0.5 it is 900;
    told the worst apart, 100 at a quarter and 900 for the rest: 700."""
    back = np.tile([100.0, 500.0, 900.0, 900.0], 400)
    nothing = np.zeros_like(back)
    halves = change_of_limit(back, nothing, (back > 600).astype(int), Terms(0.0, 0.6))
    worst = change_of_limit(back, nothing, (back < 200).astype(int), Terms(0.0, 0.5))
    assert halves.value == pytest.approx(0)
    assert worst.value == pytest.approx(-200)


def test_too_few_draws_are_refused():
    with pytest.raises(ValueError, match="too few draws"):
        worth_of_answer(np.ones((1, 3)), np.zeros(3, int), at_ask(1))


def test_under_two_errors_it_does_not_tell():
    assert Worth(4.1, 2.0).tells
    assert not Worth(3.9, 2.0).tells
    assert not Worth(0.0, 0.0).tells


def test_acts_pay_lines_in_the_outcomes():
    acts = Acts(np.array([[1.0, 0.0], [0.0, 2.0]]), np.array([5.0, 0.0]))
    outcomes = np.array([[10.0, 1.0], [3.0, 4.0]])
    assert acts.pays(outcomes).tolist() == [[15, 6], [6, 8]]
    assert acts.best(outcomes).tolist() == [0, 1]
    assert acts.paid(1, outcomes).tolist() == [6, 8]
    assert acts.paid(np.array([0, 1]), outcomes).tolist() == [15, 8]
