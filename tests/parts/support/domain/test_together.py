"""Fits in different positions are needed together; in the same, or in none, one will do."""

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from parts.support.domain.coverage import Need, Place, cover
from parts.support.domain.offers import Fitted
from parts.support.domain.routes import Offer
from parts.support.domain.together import sides

LEFT = Fitted(1, "P-L", position="left", quantity=Decimal(2))
RIGHT = Fitted(2, "P-R", position="right")
ANY = Fitted(3, "P-U")
PEDAL = Place("pedals", "pedals", wears=True)
HAD = Offer("maker", "supported", cost=Decimal("12.00"))
OLD = Offer("maker", "supported", fresh=False)
ENDED = Offer("maker", "ended")
SILENT = Offer("maker", "no-answer")
UNASKED = Offer("maker", "not-asked", fresh=False)


def shape(fitted):
    return [(side.position, [one.number for one in side.fitted]) for side in sides(fitted)]


def test_without_any_fit_there_is_one_need_of_one():
    [side] = sides([])
    assert (side.position, side.fitted, side.quantity) == ("", (), 1)


def test_parts_in_one_position_or_in_none_stand_for_each_other():
    assert shape([LEFT, ANY]) == [("", ["P-L", "P-U"])]
    again = Fitted(4, "P-L2", position=" Left")
    assert shape([LEFT, again]) == [("", ["P-L", "P-L2"])]


def test_parts_in_two_positions_are_needed_together_each_in_its_number():
    assert shape([LEFT, RIGHT]) == [("left", ["P-L"]), ("right", ["P-R"])]
    assert [side.quantity for side in sides([LEFT, RIGHT])] == [2, 1]


def test_a_part_without_a_position_serves_in_each():
    assert shape([LEFT, RIGHT, ANY]) == [("left", ["P-L", "P-U"]), ("right", ["P-R", "P-U"])]


def test_a_later_number_serves_where_the_earlier_did():
    later = Fitted(5, "P-L9", "superseded", position="left")
    assert shape([LEFT, RIGHT, later])[0] == ("left", ["P-L", "P-L9"])


def test_a_sisters_words_for_positions_count_only_where_we_have_no_part_of_our_own():
    theirs = [
        Fitted(6, "S-L", "sister", position="left"),
        Fitted(7, "S-R", "sister", position="right hand"),
    ]
    assert shape(theirs) == [("left", ["S-L"]), ("right hand", ["S-R"])]
    assert shape([LEFT, RIGHT, *theirs]) == [("left", ["P-L", "S-L"]), ("right", ["P-R"])]
    assert shape([ANY, *theirs]) == [("", ["P-U", "S-L", "S-R"])]


def pair(left, right):
    needs = [Need([left], Decimal(2), "left"), Need([right], position="right")]
    [covered] = cover([PEDAL], {"pedals": needs}).components
    return covered


def test_a_pair_is_had_only_when_each_is_and_costs_both():
    both = pair(HAD, HAD)
    assert (both.word, both.lacking, both.cost) == ("had", [], Decimal("36.00"))


def test_the_worst_of_the_needed_decides_and_is_named():
    words = [
        (pair(HAD, other).word, pair(HAD, other).lacking, pair(HAD, other).cost)
        for other in (OLD, SILENT, UNASKED, ENDED)
    ]
    assert words == [
        ("stale", ["right"], None),
        ("unknown", ["right"], None),
        ("unasked", ["right"], None),
        ("gone", ["right"], None),
    ]
    assert pair(ENDED, UNASKED).lacking == ["left"]
    assert pair(HAD, ENDED).best == ENDED


def test_where_both_are_gone_the_component_is_named_as_a_whole():
    assert (pair(ENDED, ENDED).word, pair(ENDED, ENDED).lacking) == ("gone", [])


kinds = st.sampled_from([HAD, OLD, ENDED, SILENT, UNASKED])


@given(st.lists(kinds, min_size=1, max_size=4), kinds)
def test_one_more_need_never_makes_a_component_better(offers, more):
    order = ["had", "stale", "unknown", "unasked", "gone"]
    needs = [Need([one], position=str(place)) for place, one in enumerate(offers)]
    [before] = cover([PEDAL], {"pedals": needs}).components
    [after] = cover([PEDAL], {"pedals": [*needs, Need([more], position="more")]}).components
    assert order.index(after.word) >= order.index(before.word)
