"""Which calls to make and which machines to look at first, for one lot.

A call tells of some routes of a model whether they are open. A look tells of some machines of a
model which components have to be replaced. Either is wrong now and then, with a stated chance. What
would be told is gathered into few answers: that can only lose worth, never make any up.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import zip_longest

import numpy as np

from parts.answers.domain.odds import stated as odds_of_answers
from shop.lots.domain.assumptions import table
from shop.lots.domain.inputs import Component, Lot, Machine, Model, Route
from shop.lots.domain.knowing import (
    Acts,
    LimitChange,
    Worth,
    change_of_limit,
    worth_of_answer,
)
from shop.lots.domain.looking import Plan, states
from shop.lots.domain.normal import SIXTEEN_BITS
from shop.lots.domain.prices import Terms
from shop.lots.domain.streams import draw16, stream
from shop.lots.domain.valuing import Valuation

CALL, LOOK = "call", "look"
ANSWERS = 16  # into so many answers of equal share a long tale is gathered
TOLD_APART = 5  # so many yes or no are kept apart, more are weighed together
LOOKS = (1, 3)  # how many machines of a model to look at
WEIGHED = 200  # questions of one lot, each of which takes the longer the more draws there are


@dataclass(frozen=True)
class Question:
    """A call about a model, or a look at ``count`` of its machines, and the minutes it takes.

    ``about`` names the call, or the one component that is looked at (all of them where empty).
    """

    kind: str
    model: str
    about: str
    count: int
    minutes: float


@dataclass(frozen=True)
class Advice:
    """What a question is worth; unless ``worth.tells``, it cannot be told from nothing."""

    question: Question
    worth: Worth
    limit: LimitChange

    @property
    def per_minute(self) -> float:
        return self.worth.value / self.question.minutes


@dataclass(frozen=True)
class Wrong:
    """The chances that a call, and that a look at one component, tells what is not so."""

    call: float
    look: float


def stated_wrong() -> Wrong:
    """As stated: of calls where the odds of answers are, of looks in ``lots.toml``."""
    return Wrong(odds_of_answers()["wrong"], table()["questions"]["look_wrong"])


def questions_of(machines: Sequence[Machine]) -> Iterator[Question]:
    """Every call that is not settled, and looks at machines of which something is not yet known."""
    figures = table()["questions"]
    for model, alike in _by_model(machines).items():
        for call in sorted({route.call for route in _open_routes(alike) if route.call}):
            yield Question(CALL, model, call, 0, figures["call_minutes"])
        unseen = len(_unseen(alike))
        for count in sorted({min(one, unseen) for one in LOOKS} - {0}):
            minutes = figures["look_walk_minutes"] + count * figures["look_minutes"]
            yield Question(LOOK, model, "", count, minutes)


def first_questions(
    valuation: Valuation,
    questions: Iterable[Question],
    acts: Acts,
    wrong: Wrong,
    terms: Terms,
) -> list[Advice]:
    """Questions with their worth, the most a minute first; last, those that tell nothing.

    Of more than ``WEIGHED`` those are weighed at which most seems to be at stake a minute, looks
    and calls in turn.
    """
    advice = []
    for question in most_at_stake(valuation.lot, questions, WEIGHED):
        answers = answers_to(question, valuation, wrong)
        worth = worth_of_answer(valuation.net[None], answers, acts)
        limit = change_of_limit(valuation.back, valuation.costs, answers, terms)
        advice.append(Advice(question, worth, limit))
    return sorted(advice, key=lambda one: (not one.worth.tells, -one.per_minute))


def most_at_stake(lot: Lot, questions: Iterable[Question], most: int) -> list[Question]:
    """At most so many questions, looks and calls in turn, those of the greatest stake a minute.

    In turn, since a look tells of the whole lot as well, which no stake here counts.
    """
    questions = list(questions)
    if len(questions) <= most:
        return questions
    by_model, rate = _by_model(lot.machines), lot.assumptions.bench_rate / 60
    ranked = sorted(
        questions, key=lambda one: -_stake(one, by_model[one.model], rate) / one.minutes
    )
    kinds = ([one for one in ranked if one.kind == kind] for kind in (LOOK, CALL))
    turns = zip_longest(*kinds)
    return [one for turn in turns for one in turn if one][:most]


def _stake(question: Question, alike: Sequence[Machine], rate: float) -> float:
    """About the money that an answer may move, without a draw.

    Of a call, what every machine is expected to lose without its routes, times their doubt. Of a
    look, how far the bills of the machines looked at stray. Each machine counts up to its price,
    and only where it may be put right.
    """
    if question.kind == CALL:
        stakes = [(one, _lost(one.model, question.about)) for one in alike]
    else:
        stakes = [(one, _strays(one, rate)) for one in _unseen(alike)[: question.count]]
    return sum(min(one.model.market.price.mean, stake) for one, stake in stakes if one.may_sell)


def _lost(model: Model, call: str) -> float:
    """What a machine of a model is expected to lose without the routes that a call tells of, times
    the doubt of each."""
    price = model.market.price.mean
    return sum(
        _mean(one) * _doubt(route.chance) * max(0.0, _next_best(one, route, price) - route.cost)
        for one in model.components
        for route in one.routes
        if route.call == call and 0 < route.chance < 1
    )


def _next_best(component: Component, route: Route, price: float) -> float:
    """The expected cost of a component's other routes, the cheapest that is had; the machine's
    ``price`` where none is."""
    cost, left = 0.0, 1.0
    for other in sorted(component.routes, key=lambda one: one.cost):
        if other.key != route.key:
            cost += left * other.chance * min(other.cost, price)
            left *= 1 - other.chance
    return cost + left * price


def _strays(machine: Machine, rate: float) -> float:
    """The standard deviation of the bill of what is not known of a machine, by its mean odds."""
    unseen = [one for one in machine.model.components if one.slug not in machine.found]
    return math.hypot(*(_doubt(_mean(one)) * _bill(one, rate) for one in unseen))


def _doubt(chance: float) -> float:
    return math.sqrt(chance * (1 - chance))


def _mean(component: Component) -> float:
    return component.odds.alpha / (component.odds.alpha + component.odds.beta)


def answers_to(question: Question, valuation: Valuation, wrong: Wrong) -> np.ndarray:
    """What would be answered in each draw, as whole numbers from 0.

    Raises ``ValueError`` for a question that this lot does not leave open.
    """
    plan = valuation.looked.plan
    alike = _by_model(valuation.lot.machines).get(question.model, [])
    if question.kind == CALL:
        routes = {one.key: one for one in _open_routes(alike) if one.call == question.about}
        told = [_call(plan, one, wrong.call) for one in routes.values()]
        weights = [_leaning(alike, key) for key in routes]
    else:
        rate = valuation.lot.assumptions.bench_rate / 60
        some = _unseen(alike)[: question.count]
        looks = [_look(plan, one, question.about, wrong.look) for one in some]
        told = [row for rows, _ in looks for row in rows]
        weights = [_bill(component, rate) for _, components in looks for component in components]
    if not told:
        raise ValueError("nothing is left open that this could answer")
    return gathered(np.array(told)[:, : plan.count], np.array(weights))


def gathered(told: np.ndarray, weights: np.ndarray) -> np.ndarray:
    """Few answers out of many yes or no (rows by draws): apart, or by their weighed sum."""
    if len(told) <= TOLD_APART:
        return (1 << np.arange(len(told))) @ told
    sums = weights @ told
    bounds = np.quantile(sums, np.arange(1, ANSWERS) / ANSWERS)
    return np.searchsorted(np.unique(bounds), sums, side="right")


def _by_model(machines: Iterable[Machine]) -> dict[str, list[Machine]]:
    found: dict[str, list[Machine]] = {}
    for machine in machines:
        found.setdefault(machine.model.key, []).append(machine)
    return found


def _models(machines: Iterable[Machine]) -> list[Model]:
    return list({id(one.model): one.model for one in machines}.values())


def _open_routes(machines: Iterable[Machine]) -> list[Route]:
    """Routes of which nobody knows yet whether they are open."""
    components = [one for model in _models(machines) for one in model.components]
    return [route for one in components for route in one.routes if 0 < route.chance < 1]


def _unseen(machines: Iterable[Machine]) -> list[Machine]:
    return [one for one in machines if any(c.slug not in one.found for c in one.model.components)]


def _leaning(machines: Iterable[Machine], key: str) -> float:
    """How many components are to be expected to lean on one route."""
    return sum(
        _mean(one)
        for machine in machines
        for one in machine.model.components
        if any(route.key == key for route in one.routes)
    )


def _bill(component: Component, rate: float) -> float:
    """About what putting a component right costs, in money."""
    return min((one.cost for one in component.routes), default=0.0) + component.minutes * rate


def _call(plan: Plan, route: Route, wrong: float) -> np.ndarray:
    return plan.had(route) ^ _mistaken(plan, 1, wrong, "call", route.key)[0]


def _look(plan: Plan, machine: Machine, about: str, wrong: float):
    """What a look shows (rows of yes or no), and of which components."""
    parts = [
        (at, one)
        for at, one in enumerate(machine.model.components)
        if one.slug not in machine.found and about in ("", one.slug)
    ]
    places, components = [at for at, _ in parts], [one for _, one in parts]
    shown = np.empty((len(places), plan.padded), bool)
    for seen in states(plan, [machine]):
        shown[:, seen.at] = seen.fails[0, places]
    return shown ^ _mistaken(plan, len(places), wrong, "look", machine.key), components


def _mistaken(plan: Plan, rows: int, wrong: float, *names: str) -> np.ndarray:
    """In which draws an answer is wrong, independent of everything else."""
    drawn = draw16(stream(plan.seed, "wrong", *names), rows, plan.padded)
    return drawn < np.uint16(round(wrong * (SIXTEEN_BITS - 1)))
