from hypothesis import given
from hypothesis import strategies as st

from units.inspections.domain.standing import Look, standing


def look(ref, key="belt", *, sound=False, possible=True, cleared=False):
    return Look(ref, key, sound, possible, cleared)


def refs(*newest_first):
    return [found.ref for found in standing(newest_first)]


def test_an_unsound_look_stands():
    assert refs(look("a")) == ["a"]


def test_a_later_sound_look_of_the_same_step_answers_it():
    assert refs(look("b", sound=True), look("a")) == []


def test_a_sound_look_of_another_step_answers_nothing():
    assert refs(look("b", key="tracking", sound=True), look("a")) == ["a"]


def test_a_later_fault_stands_in_place_of_the_earlier_one():
    assert refs(look("b"), look("a")) == ["b"]


def test_an_earlier_sound_look_does_not_hide_a_later_fault():
    assert refs(look("b"), look("a", sound=True)) == ["b"]


def test_a_cleared_look_stands_no_more_nor_does_what_it_had_replaced():
    assert refs(look("b", cleared=True), look("a")) == []


def test_a_look_that_was_not_possible_stands_and_hides_no_fault_seen_before():
    assert refs(look("b", possible=False), look("a")) == ["b", "a"]


def test_only_the_newest_of_several_impossible_looks_stands():
    assert refs(look("b", possible=False), look("a", possible=False)) == ["b"]


def test_a_cleared_gap_answers_what_lies_before_it():
    assert refs(look("b", possible=False, cleared=True), look("a")) == []


LOOKS = st.lists(
    st.builds(
        Look,
        ref=st.integers(),
        key=st.sampled_from(["belt", "deck", "frame"]),
        sound=st.booleans(),
        possible=st.just(True),
        cleared=st.booleans(),
    ),
    max_size=12,
)


@given(LOOKS)
def test_no_step_stands_twice_and_nothing_sound_or_cleared_stands(looks):
    found = standing(looks)
    assert len({each.key for each in found}) == len(found)
    assert not any(each.sound or each.cleared for each in found)


@given(LOOKS)
def test_what_stands_of_one_step_does_not_depend_on_the_others(looks):
    belts = [each for each in looks if each.key == "belt"]
    assert [each for each in standing(looks) if each.key == "belt"] == standing(belts)
