from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.till.domain.pricing import Line, MarkUpStep, PriceRules
from shop.work.domain.billing import (
    Agreed,
    Used,
    Work,
    charges,
    charges_unrepaired,
    left_to_take,
    minutes_charged,
    net_of,
    projected,
)

RULES = PriceRules(Decimal(80), Decimal(30), (MarkUpStep(Decimal(0), Decimal("1.5")),))
BELT = Agreed(1, "part", "Belt", Decimal(1), Decimal("120"), part=7, component="running-belt")
FITTING = Agreed(2, "labour", "Replace: belt", Decimal(1), Decimal("80"), component="running-belt")
TO_FIND = Agreed(3, "part", "Part to be found: deck", Decimal(1), Decimal("150"), component="deck")
BELT_USED = Used(7, "CV-1 belt", Decimal(1), Decimal("120"), line=1, component="running-belt")


def work(agreed=(BELT, FITTING), used=(BELT_USED,), minutes=45):
    return Work(agreed, used, minutes, RULES, "Labour, 45 min")


def test_parts_are_charged_as_used_and_labour_as_agreed():
    assert charges(work()) == [
        Line("part", "CV-1 belt", Decimal(1), Decimal("120")),
        Line("labour", "Replace: belt", Decimal(1), Decimal("80")),
    ]


def test_labour_is_the_time_written_where_none_was_agreed():
    assert charges(work(agreed=[BELT]))[1] == Line(
        "labour", "Labour, 45 min", Decimal(1), Decimal("60.00")
    )


def test_no_labour_is_charged_where_none_was_agreed_or_written():
    assert [line.line_class for line in charges(work(agreed=[BELT], minutes=0))] == ["part"]


def test_an_agreed_part_that_was_not_used_is_not_charged():
    assert [line.description for line in charges(work(used=[]))] == ["Replace: belt"]


def test_an_unrepaired_machine_is_charged_its_parts_and_the_fee():
    assert charges_unrepaired([BELT_USED], Decimal(35), "Diagnosis") == [
        Line("part", "CV-1 belt", Decimal(1), Decimal("120")),
        Line("fee", "Diagnosis", Decimal(1), Decimal(35)),
    ]


def test_nothing_is_charged_where_nothing_was_used_and_no_fee_agreed():
    assert charges_unrepaired([], Decimal(0), "Diagnosis") == []


@pytest.mark.parametrize(
    ("use", "served"),
    [
        (BELT_USED, True),
        (replace(BELT_USED, line=None), True),  # the same part, taken by its number
        (replace(BELT_USED, part=8), True),  # another number, taken for the line
        (replace(BELT_USED, part=8, line=None), False),
        (replace(BELT_USED, part=8, line=99), False),  # taken for another line
    ],
)
def test_a_use_serves_the_line_it_was_taken_for_or_whose_part_it_is(use, served):
    assert (left_to_take([BELT], [use]) == []) is served


def test_a_part_found_for_an_older_version_serves_the_same_component():
    use = Used(9, "deck", Decimal(1), Decimal(150), line=33, component="deck")
    assert left_to_take([TO_FIND], [use]) == []


def test_a_line_without_part_is_not_served_by_a_part_of_no_component():
    stray = Agreed(4, "part", "Sundries", Decimal(1), Decimal(5))
    assert left_to_take([stray], [replace(BELT_USED, component=None)]) == [stray]


TWO = replace(BELT, quantity=Decimal(2))
SECOND = replace(BELT, line=5)
LOOSE = replace(BELT_USED, line=None)


@pytest.mark.parametrize(
    ("agreed", "used", "left"),
    [
        ([TWO], [BELT_USED], {1: 1}),
        ([TWO], [BELT_USED, LOOSE], {}),
        ([TWO], [replace(BELT_USED, quantity=Decimal("0.5"))], {1: Decimal("1.5")}),
        ([BELT, SECOND], [BELT_USED], {5: 1}),
        ([BELT, SECOND], [replace(BELT_USED, line=5)], {1: 1}),
        ([BELT, SECOND], [LOOSE], {5: 1}),
        ([BELT, SECOND], [LOOSE, BELT_USED], {}),  # the line's own use first, then the other's
        ([BELT, SECOND], [replace(BELT_USED, quantity=Decimal(2))], {}),
        ([BELT], [replace(BELT_USED, quantity=Decimal(9))], {}),
    ],
)
def test_a_line_is_taken_by_so_many_as_it_says_and_no_use_counts_twice(agreed, used, left):
    assert {one.line: one.quantity for one in left_to_take(agreed, used)} == left


def test_the_second_of_two_agreed_is_still_to_come():
    assert projected(work(agreed=[TWO, FITTING])) == Decimal(320)


def test_labour_is_never_an_unused_part():
    assert left_to_take([FITTING], []) == []


def test_what_is_to_come_counts_before_it_is_taken():
    assert projected(work(used=[])) == Decimal(200)
    assert projected(work()) == Decimal(200)


def test_a_part_beyond_the_agreed_ones_adds_to_what_is_to_come():
    extra = Used(8, "roller", Decimal(2), Decimal("12.345"))
    assert projected(work(used=[BELT_USED, extra])) == Decimal("224.69")


@given(
    st.lists(
        st.tuples(
            st.decimals(min_value="0.001", max_value=999, places=3),
            st.decimals(min_value=0, max_value=9999, places=2),
        )
    )
)
def test_the_net_is_in_whole_cents_and_adds_up_line_by_line(lines):
    made = [Line("part", "x", quantity, price) for quantity, price in lines]
    assert net_of(made) == sum((net_of([line]) for line in made), Decimal(0))
    assert net_of(made).as_tuple().exponent >= -2


TIMED = Agreed(4, "labour", "Find the cause", Decimal(1), Decimal(40), minutes=30, timed=True)
FLAT = replace(FITTING, minutes=60)


@pytest.mark.parametrize(
    ("agreed", "minutes", "charged"),
    [
        ([BELT], 45, 45),  # nothing agreed about labour: all of it
        ([FLAT], 45, 0),  # a flat sum, however long it took
        ([TIMED], 45, 45),
        ([FLAT, TIMED], 45, 0),  # within the minutes of the flat line
        ([FLAT, TIMED], 95, 35),
    ],
)
def test_time_is_charged_as_it_was_agreed(agreed, minutes, charged):
    assert minutes_charged(agreed, minutes) == charged


def test_timed_labour_is_charged_by_the_time_and_not_by_what_was_expected():
    lines = charges(work(agreed=[FLAT, TIMED], used=[], minutes=105))
    assert [(line.description, line.unit_price) for line in lines] == [
        ("Replace: belt", Decimal(80)),
        ("Labour, 45 min", Decimal("60.00")),
    ]


def test_what_is_expected_of_timed_labour_counts_until_it_is_worked():
    """80 flat, and 40 expected for half an hour at 80 an hour: closed form."""
    sums = [projected(work(agreed=[FLAT, TIMED], used=[], minutes=one)) for one in (0, 75, 105)]
    assert sums == [Decimal(120), Decimal(120), Decimal(140)]
