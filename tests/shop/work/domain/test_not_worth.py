"""From half of what it fetches on doubtful: common practice, no published source."""

from decimal import Decimal
from itertools import product

import pytest

from shop.work.domain.not_worth import Parts, any_of, weigh

HAD = Parts()


@pytest.mark.parametrize(
    ("cost", "middle", "word"),
    [
        (199, 400, "worth"),
        (200, 400, "doubtful"),
        (399, 400, "doubtful"),
        (400, 400, "not-worth"),
        (500, None, "unknown"),
    ],
)
def test_a_repair_is_weighed_by_what_the_machine_would_fetch(cost, middle, word):
    weighed = weigh(Decimal(cost), Decimal(middle) if middle else None)
    assert weighed.word == word
    assert weighed.share == (Decimal(cost) / middle if middle else None)


@pytest.mark.parametrize(
    ("parts", "word"),
    [
        (HAD, "worth"),
        (Parts(unsure=("drive motor",)), "doubtful"),
        (Parts(cannot=("drive motor",)), "cannot"),
        (Parts(cannot=("drive motor",), unsure=("deck",)), "cannot"),
        (Parts(ends=0.5), "doubtful"),  # 100 of the 200 it counts at
        (Parts(ends=0.75), "not-worth"),  # 100 of 100
    ],
)
def test_what_can_be_had_changes_what_is_said_of_the_same_money(parts, word):
    assert weigh(Decimal(100), Decimal(400), parts).word == word


def test_what_cannot_be_had_is_said_though_nobody_knows_what_the_machine_fetches():
    assert weigh(Decimal(100), None, Parts(cannot=("deck",))).word == "cannot"
    assert weigh(Decimal(100), None, Parts(unsure=("deck",))).word == "unknown"


def test_a_machine_whose_next_fault_may_end_it_counts_at_less():
    weighed = weigh(Decimal(100), Decimal(400), Parts(ends=0.25))
    assert (weighed.counted, weighed.share) == (Decimal(300), Decimal(100) / 300)


@pytest.mark.parametrize("chances", [(), (0.3,), (0.3, 0.5), (0.1, 0.2, 0.4)])
def test_the_chance_of_at_least_one_is_that_of_all_cases_added_up(chances):
    """Against the whole table of cases, each with the product of its chances."""
    total = 0.0
    for case in product([True, False], repeat=len(chances)):
        weight = 1.0
        for happens, chance in zip(case, chances, strict=True):
            weight *= chance if happens else 1 - chance
        total += weight * any(case)
    assert any_of(chances) == pytest.approx(total)
