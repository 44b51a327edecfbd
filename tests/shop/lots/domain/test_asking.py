from dataclasses import replace
from itertools import pairwise, product

import numpy as np
import pytest
from scipy import stats

from shop.lots.domain.asking import (
    CALL,
    LOOK,
    Question,
    Wrong,
    answers_to,
    first_questions,
    gathered,
    most_at_stake,
    questions_of,
    stated_wrong,
)
from shop.lots.domain.inputs import Lot, Machine, Odds, Route
from shop.lots.domain.knowing import at_ask, worth_of_answer, worth_of_everything
from shop.lots.domain.prices import Terms
from shop.lots.domain.valuing import value_lot
from tests.shop.lots.domain.building import component, lot, model, plain

DRAWS = 40_000
NEVER_WRONG = Wrong(0.0, 0.0)
TERMS = Terms(0.25, 0.8)
FREE = replace(plain().haul, truck_fixed=0.0, truck_per_km=0.0, person_rate=0.0)


def belts(machines=3, alpha=2.0, beta=2.0) -> Lot:
    """Machines of one model with one part to look at, whose odds nobody knows well: 1,000 each,
    less 600 where the belt has to be replaced."""
    belt = replace(component("belt", cost=600.0), odds=Odds("belt", alpha, beta))
    return lot(*[model(belt, price=1000.0)] * machines, assumptions=plain(haul=FREE))


def boards() -> Lot:
    """Two machines that both need a board, had by one call's word at 0.5; else they are scrap."""
    board = component("board", 1 - 1e-9, routes=(Route("maker", 0.5, 100.0, call="maker"),))
    kind = model(board, price=1000.0, scrap=50.0, disposal=0.0, strip_minutes=600.0)
    return lot(kind, kind, assumptions=plain(haul=FREE))


def worth(one, question, ask, wrong=NEVER_WRONG, seed=4):
    valued = value_lot(one, seed=seed, draws=DRAWS)
    answers = answers_to(question, valued, wrong)
    return worth_of_answer(valued.net[None], answers, at_ask(ask))


def looked_at(count, total, told_wrong, ask):
    """The worth of looking at ``count`` of ``total`` belts, summed over every count of failures:
    Beta(2, 2) by scipy.stats.betabinom and conjugate updates."""
    value = 0.0
    told = np.zeros(count + 1)
    means = np.zeros(count + 1)
    for fails in range(count + 1):
        chance = stats.betabinom(count, 2, 2).pmf(fails)
        rest = (2 + fails) / (4 + count) * (total - count)
        net = 1000 * total - 600 * (fails + rest)
        for seen in range(count + 1):
            share = chance * told_as(seen, fails, count, told_wrong)
            told[seen] += share
            means[seen] += share * net
    for share, mean in zip(told, means, strict=True):
        value += max(0.0, mean - share * ask)
    return value - max(0.0, 1000 * total - 300 * total - ask)


def told_as(seen, fails, count, wrong):
    """The chance that ``fails`` of ``count`` look like ``seen``."""
    total = 0.0
    for true_seen in range(seen + 1):
        hit = stats.binom(fails, 1 - wrong).pmf(true_seen)
        total += hit * stats.binom(count - fails, wrong).pmf(seen - true_seen)
    return total


@pytest.mark.parametrize(("count", "wrong"), [(1, 0.0), (2, 0.0), (3, 0.0), (1, 0.2), (3, 0.2)])
def test_a_look_at_some_of_a_model_against_full_enumeration(count, wrong):
    question = Question(LOOK, "Corvane T9", "belt", count, 10.0)
    found = worth(belts(), question, 2000, Wrong(0.0, wrong))
    assert found.value == pytest.approx(looked_at(count, 3, wrong, 2000), abs=4 * found.error)
    assert found.tells


@pytest.mark.parametrize("wrong", [0.0, 0.1, 0.3, 0.5])
def test_a_call_against_full_enumeration(wrong):
    """By hand: 1,800 with the board, 100 without; at an ask of 1,000 the lot is left. Told yes, it
    is worth 1,800 (1 - w) + 100 w."""
    question = Question(CALL, "Corvane T9", "maker", 0, 12.0)
    found = worth(boards(), question, 1000, Wrong(wrong, 0.0))
    exact = 0.5 * max(0.0, 1800 * (1 - wrong) + 100 * wrong - 1000)
    assert found.value == pytest.approx(exact, abs=4 * found.error + 0.5)
    assert found.tells == (wrong < 0.47)


def test_looking_at_more_is_worth_no_less():
    worths = [worth(belts(6), Question(LOOK, "Corvane T9", "", n, 9.0), 4100) for n in (1, 3, 6)]
    for fewer, more in pairwise(worths):
        assert more.value >= fewer.value - 2 * (more.error + fewer.error)


def test_no_question_is_worth_more_than_knowing_everything():
    for one, ask in product((belts(), boards()), (900, 1500, 2100)):
        valued = value_lot(one, seed=4, draws=DRAWS)
        most = worth_of_everything(valued.net[None], at_ask(ask))
        for advice in first_questions(
            valued, questions_of(one.machines), at_ask(ask), Wrong(0.05, 0.1), TERMS
        ):
            assert advice.worth.value >= -2 * advice.worth.error
            assert advice.worth.value <= most.value + 2 * most.error


def test_what_is_open_is_asked_and_what_is_known_is_not():
    kind = boards().machines[0].model
    machines = (Machine("a", kind), Machine("b", kind, found={"board": True}))
    asked = [(one.kind, one.about, one.count) for one in questions_of(machines)]
    assert asked == [(CALL, "maker", 0), (LOOK, "", 1)]
    known = model(component("belt"))
    assert [one.kind for one in questions_of((Machine("a", known, found={"belt": False}),))] == []


def test_a_question_that_is_settled_is_refused():
    valued = value_lot(belts(), seed=4, draws=500)
    with pytest.raises(ValueError, match="left open"):
        answers_to(Question(CALL, "Corvane T9", "maker", 0, 12.0), valued, NEVER_WRONG)


def test_the_most_a_minute_comes_first_and_what_tells_nothing_last():
    one = lot(belts().machines[0].model, boards().machines[0].model, assumptions=plain(haul=FREE))
    kinds = [replace(one.machines[0].model, key="A"), replace(one.machines[1].model, key="B")]
    one = Lot(tuple(Machine(key.key, key) for key in kinds), plain(haul=FREE))
    valued = value_lot(one, seed=4, draws=DRAWS)
    advice = first_questions(valued, questions_of(one.machines), at_ask(1200), NEVER_WRONG, TERMS)
    rates = [each.per_minute for each in advice if each.worth.tells]
    assert rates == sorted(rates, reverse=True)
    assert len(rates) >= 2
    tells = [each.worth.tells for each in advice]
    assert tells == sorted(tells, reverse=True)
    assert not tells[-1]  # a look at a board that is sure to be dead


def test_an_answer_that_came_in_makes_the_same_call_worth_nothing():
    one = boards()
    kind = one.machines[0].model
    board = replace(kind.components[0], routes=(Route("maker", 1.0, 100.0, call="maker"),))
    kind = replace(kind, components=(board,))
    answered = replace(one, machines=tuple(replace(m, model=kind) for m in one.machines))
    assert CALL not in [each.kind for each in questions_of(answered.machines)]


def test_the_stated_chances_of_a_wrong_answer():
    assert 0 < stated_wrong().call < stated_wrong().look < 0.5


def test_a_long_tale_becomes_few_answers_in_the_order_of_its_weight():
    told = np.random.default_rng(3).random((12, 5000)) < 0.3
    weights = np.arange(1.0, 13.0)
    answers = gathered(told, weights)
    assert 8 < len(np.unique(answers)) <= 16
    means = [(weights @ told)[answers == one].mean() for one in np.unique(answers)]
    assert means == sorted(means)


def test_a_short_tale_is_kept_apart():
    told = np.array([[0, 1, 0, 1], [0, 0, 1, 1]], bool)
    assert gathered(told, np.ones(2)).tolist() == [0, 1, 2, 3]


def test_of_many_questions_those_at_which_most_seems_to_be_at_stake_are_weighed():
    dear = model(component("belt", 0.5, cost=700.0), key="dear", price=2000.0)
    cheap = model(component("belt", 0.5, cost=20.0), key="cheap", price=2000.0)
    one = lot(dear, cheap)
    few = most_at_stake(one, questions_of(one.machines), most=1)
    assert [(asked.kind, asked.model) for asked in few] == [(LOOK, "dear")]
    assert most_at_stake(one, few, most=1) == few


def test_a_call_is_at_stake_where_nothing_else_would_do():
    """Both boards fail as often; one is on our shelf as well, at a little more."""
    alone = (Route("maker a", 0.5, 100.0, call="maker"),)
    beside = (Route("maker b", 0.5, 100.0, call="maker"), Route("shelf", 1.0, 105.0))
    one = lot(*(model(component("board", 0.5, routes=routes), key=key)
                for key, routes in (("beside", beside), ("alone", alone))))  # fmt: skip
    calls = [asked for asked in questions_of(one.machines) if asked.kind == CALL]
    assert [asked.model for asked in most_at_stake(one, calls, most=1)] == ["alone"]


def test_what_is_at_stake_stops_at_machines_that_are_not_put_right_anyway():
    kind, other = (model(component("belt", 0.5, cost=cost), key=f"{cost}") for cost in (600, 50))
    one = Lot((Machine("dead", kind, ran=False), Machine("runs", other)), plain())
    assert [q.model for q in most_at_stake(one, questions_of(one.machines), most=1)] == ["50"]


def test_no_more_questions_are_weighed_than_are_asked_for(monkeypatch):
    one = belts(machines=5)
    valued = value_lot(one, seed=2, draws=DRAWS)
    monkeypatch.setattr("shop.lots.domain.asking.WEIGHED", 1)
    asked = questions_of(one.machines)
    assert len(first_questions(valued, asked, at_ask(3500.0), NEVER_WRONG, TERMS)) == 1
