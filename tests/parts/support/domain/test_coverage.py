from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.support.domain.calling import Question, call_order
from parts.support.domain.coverage import Need, Place, cover
from parts.support.domain.routes import Offer, ranked

BELT = Place("running-belt", "running belt", wears=True, critical=True)
BOARD = Place("motor-control-board", "motor control board", critical=True)
CAP = Place("end-caps", "end caps")
HAD = Offer("maker", "supported", cost=Decimal("80.00"), lead_days=4)
OLD = Offer("maker", "supported", fresh=False)
ENDED = Offer("maker", "ended")
OLD_END = Offer("maker", "ended", fresh=False)
SILENT = Offer("maker", "no-answer")
UNASKED = Offer("maker", "not-asked", fresh=False)


@pytest.mark.parametrize(
    ("better", "worse"),
    [
        (Offer("shelf", "held"), HAD),
        (HAD, Offer("maker", "limited")),
        (Offer("maker", "limited"), Offer("maker", "back-ordered", until=date(2026, 9, 1))),
        (
            Offer("maker", "back-ordered", until=date(2026, 9, 1)),
            Offer("maker", "back-ordered"),
        ),
        (Offer("maker", "back-ordered"), OLD),
        (OLD, ENDED),
        (ENDED, SILENT),
        (SILENT, UNASKED),
        (
            Offer("supplier", "supported", cost=Decimal(90), lead_days=2),
            Offer("supplier", "supported", cost=Decimal(80), lead_days=9),
        ),
        (
            Offer("supplier", "supported", cost=Decimal(80), lead_days=2),
            Offer("supplier", "supported", cost=Decimal(90), lead_days=2),
        ),
        (Offer("supplier", "supported", cost=Decimal(80)), Offer("supplier", "supported")),
    ],
)
def test_of_two_ways_the_better_stands_first(better, worse):
    assert ranked([worse, better]) == ranked([better, worse]) == [better, worse]


@pytest.mark.parametrize(
    ("offers", "word"),
    [
        ([HAD], "had"),
        ([ENDED, HAD], "had"),
        ([OLD], "stale"),
        ([ENDED, OLD], "stale"),
        ([ENDED], "gone"),
        ([ENDED, UNASKED], "gone"),
        ([OLD_END], "stale"),
        ([SILENT], "unknown"),
        ([SILENT, UNASKED], "unknown"),
        ([UNASKED], "unasked"),
        ([], "unasked"),
    ],
)
def test_a_component_comes_to_one_word(offers, word):
    [covered] = cover([BELT], {"running-belt": [Need(offers)]}).components
    assert covered.word == word


def test_what_wears_stands_first_then_what_decides():
    coverage = cover([CAP, BOARD, BELT], {})
    assert [one.place for one in coverage.components] == [BELT, BOARD, CAP]


def test_the_unasked_are_counted_apart_from_the_noes():
    coverage = cover(
        [BELT, BOARD, CAP], {"running-belt": [Need([ENDED])], "end-caps": [Need([HAD])]}
    )
    assert coverage.count == {"had": 1, "stale": 0, "gone": 1, "unknown": 0, "unasked": 1}


def test_all_pieces_of_a_component_are_paid_for():
    coverage = cover([BELT], {"running-belt": [Need([HAD], Decimal(2))]})
    assert coverage.components[0].cost == Decimal("160.00")


def test_a_stale_price_is_no_cost():
    stale = Offer("supplier", "supported", cost=Decimal(5), fresh=False)
    assert cover([BELT], {"running-belt": [Need([stale])]}).components[0].cost is None


def test_a_critical_component_that_is_gone_ends_the_machine_at_its_next_fault():
    coverage = cover(
        [BELT, BOARD, CAP], {"motor-control-board": [Need([ENDED])], "end-caps": [Need([ENDED])]}
    )
    assert [one.place for one in coverage.done_for] == [BOARD]


kinds = st.sampled_from([HAD, OLD, ENDED, OLD_END, SILENT, UNASKED])


@given(st.lists(kinds, max_size=6))
def test_a_further_fresh_yes_never_makes_a_component_worse(offers):
    [covered] = cover([BELT], {"running-belt": [Need([*offers, HAD])]}).components
    assert covered.word == "had"
    assert covered.best.counts


def test_the_call_that_most_hangs_on_and_least_is_known_comes_first():
    calls = [
        Question(1, weight=10, holds=0.95),
        Question(2, weight=4, holds=0.5),
        Question(3, weight=100, holds=0.5, settled=True),
        Question(4, weight=0, holds=0.5),
    ]
    assert [one.model for one in call_order(calls)] == [2, 1]


@given(st.floats(0, 1), st.floats(0, 1))
def test_doubt_is_greatest_at_an_even_chance(one, other):
    nearer, farther = sorted([one, other], key=lambda holds: abs(holds - 0.5))
    assert Question(1, 1, nearer).doubt >= Question(1, 1, farther).doubt - 1e-12
    assert Question(1, 1, 0.5).doubt == 1
