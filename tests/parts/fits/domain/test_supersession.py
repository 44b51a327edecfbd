import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.fits.domain.supersession import (
    CycleError,
    earlier,
    ends,
    later,
    later_of_each,
    require_no_ring,
)

LINE = [("A", "B"), ("B", "C")]
numbers = st.integers(0, 8)
links = st.lists(st.tuples(numbers, numbers).filter(lambda pair: pair[0] != pair[1]), max_size=25)


def accepted(pairs):
    """What is kept when these are offered one after another."""
    kept = []
    for part, by in pairs:
        try:
            require_no_ring(kept, part, by)
        except CycleError:
            continue
        kept.append((part, by))
    return kept


def reached(pairs, start):
    """Everything behind a number, by walking alone: the oracle."""
    onward = {by for part, by in pairs if part == start}
    return onward | {one for by in onward for one in reached(pairs, by)}


def test_a_chain_ends_in_its_last_number():
    assert (later(LINE, "A"), ends(LINE, "A"), earlier(LINE, "C")) == (
        ["B", "C"],
        ["C"],
        ["B", "A"],
    )


def test_a_number_that_nothing_replaced_is_its_own_end():
    assert (ends(LINE, "C"), ends([], "Z")) == (["C"], ["Z"])


def test_a_set_that_is_sold_apart_ends_in_each_of_its_numbers():
    assert ends([*LINE, ("A", "D")], "A") == ["D", "C"]


def test_numbers_that_came_together_again_end_once():
    assert ends([("A", "B"), ("A", "C"), ("B", "D"), ("C", "D")], "A") == ["D"]


def test_the_ring_that_a_pair_would_close_is_named():
    with pytest.raises(CycleError, match="C → A → B → C") as refusal:
        require_no_ring(LINE, "C", "A")
    assert refusal.value.ring == ["C", "A", "B", "C"]


def test_a_number_does_not_become_itself():
    with pytest.raises(CycleError, match="A → A"):
        require_no_ring([], "A", "A")


@given(links)
def test_what_is_kept_never_has_a_ring_whatever_is_added_in_whatever_order(pairs):
    kept = accepted(pairs)
    for part in range(9):
        assert part not in reached(kept, part)
        assert ends(kept, part)


@given(links)
def test_only_what_would_close_a_ring_is_refused(pairs):
    kept = accepted(pairs)
    for part, by in set(pairs) - set(kept):
        assert part in reached(kept, by)


@given(links, st.randoms(use_true_random=False), numbers)
def test_the_order_of_the_pairs_changes_no_answer(pairs, chance, part):
    kept = accepted(pairs)
    mixed = list(kept)
    chance.shuffle(mixed)
    assert later(mixed, part) == later(kept, part)
    assert ends(mixed, part) == ends(kept, part)
    assert set(later(kept, part)) == reached(kept, part)


@given(links)
def test_many_parts_are_answered_as_one_by_one(pairs):
    kept = accepted(pairs)
    each = later_of_each(kept, range(9))
    assert each == {part: later(kept, part) for part in range(9)}
    assert all(part in earlier(kept, one) for part, found in each.items() for one in found)
