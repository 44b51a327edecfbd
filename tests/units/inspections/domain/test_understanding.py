"""The rules of wear and fault. Every fact here: common practice, no published source."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from units.inspections.domain.understanding import STRENGTH, Rule, verdicts
from units.inspections.selectors import understanding_rules

COMMON_PRACTICE = "common practice, no published source"


# --- How rules are combined


def rule(key, when, act, **more):
    words = {"kinds": [], "all": [], "any": [], "none": [], "hold": False, "pair": ""} | more
    sets = {word: frozenset(words[word]) for word in ("kinds", "all", "none")}
    return Rule(
        key=key,
        any=frozenset(when),
        verdicts=tuple(act.items()),
        hold=words["hold"],
        reason=key,
        caution="",
        source=COMMON_PRACTICE,
        pair=words["pair"],
        **sets,
    )


WORN = ("belt", "worn")
DIRTY = ("belt", "dirty")


@pytest.mark.parametrize("weaker", range(1, 4))
@pytest.mark.parametrize("stronger", range(3))
def test_the_stronger_act_speaks_wherever_its_row_stands(stronger, weaker):
    if stronger >= weaker:
        weaker, stronger = stronger, weaker
    first = rule("first", [WORN], {"belt": STRENGTH[weaker]})
    second = rule("second", [DIRTY], {"belt": STRENGTH[stronger]})
    assert [v.act for v in verdicts([WORN, DIRTY], [first, second])] == [STRENGTH[stronger]]


def test_a_component_that_is_cleared_is_no_longer_suspected():
    rules = [rule("a", [WORN], {"keys": "suspect"}), rule("b", [DIRTY], {"keys": "clear"})]
    assert [v.act for v in verdicts([WORN, DIRTY], rules)] == ["clear"]


def test_of_two_rows_that_say_the_same_the_first_gives_the_reason():
    rules = [rule("a", [WORN], {"belt": "replace"}), rule("b", [DIRTY], {"belt": "replace"})]
    assert [v.rule for v in verdicts([DIRTY, WORN], rules)] == ["a"]


def test_of_two_rows_that_say_the_same_the_one_that_holds_gives_the_reason():
    rules = [
        rule("a", [WORN], {"belt": "replace"}),
        rule("b", [DIRTY], {"belt": "replace"}, hold=True),
    ]
    assert [(v.rule, v.hold) for v in verdicts([DIRTY, WORN], rules)] == [("b", True)]


def test_a_hold_of_a_weaker_row_is_kept():
    rules = [
        rule("a", [WORN], {"belt": "replace"}),
        rule("b", [DIRTY], {"belt": "suspect"}, hold=True),
    ]
    assert [(v.rule, v.hold) for v in verdicts([DIRTY, WORN], rules)] == [("a", True)]


def test_holds_come_first_then_the_strength_of_the_act():
    rules = [
        rule("a", [WORN], {"cable": "suspect"}),
        rule("b", [WORN], {"belt": "replace"}),
        rule("c", [WORN], {"frame": "suspect"}, hold=True),
    ]
    assert [v.component for v in verdicts([WORN], rules)] == ["frame", "belt", "cable"]


def test_a_row_fires_only_when_all_and_any_are_found_and_none_is_not():
    row = rule("a", [WORN, DIRTY], {"belt": "replace"}, all=[("deck", "x")], none=[("deck", "y")])
    assert verdicts([WORN, ("deck", "x")], [row])
    assert not verdicts([WORN], [row])
    assert not verdicts([("deck", "x")], [row])
    assert not verdicts([WORN, ("deck", "x"), ("deck", "y")], [row])


def test_a_row_for_other_kinds_does_not_fire_when_the_kind_is_named():
    row = rule("a", [WORN], {"belt": "replace"}, kinds=["rower"])
    assert not verdicts([WORN], [row], "treadmill")
    assert verdicts([WORN], [row], "rower")
    assert verdicts([WORN], [row])


# --- The table that the shop ships: every row fires


def _witness(row):
    """The least that should make a row fire."""
    return set(row.all) | set(sorted(row.any)[:1])


@pytest.mark.parametrize("row", understanding_rules(), ids=lambda row: row.key)
def test_every_row_fires_and_its_components_are_spoken_of(row):
    found = _witness(row)
    assert row.fires(frozenset(found))
    spoken = {v.component for v in verdicts(found, understanding_rules())}
    assert {component for component, _ in row.verdicts} <= spoken


def test_every_row_gives_the_reason_for_something_that_can_be_found():
    """No row stands for ever in the shadow of an earlier one."""
    heard = set()
    for row in understanding_rules():
        for choice in sorted(row.any) or [None]:
            found = set(row.all) | ({choice} if choice else set())
            for kind in row.kinds or [""]:
                heard |= {v.rule for v in verdicts(found, understanding_rules(), kind)}
    assert {row.key for row in understanding_rules()} - heard == set()


def test_every_row_says_that_it_has_no_published_source():
    assert {row.source for row in understanding_rules()} == {COMMON_PRACTICE}


EVERYTHING = sorted(set().union(*(row.all | row.any | row.none for row in understanding_rules())))
FOUND = st.lists(st.sampled_from(EVERYTHING), max_size=10)
PAIRS = {row.pair: {name for name, _ in row.verdicts} for row in understanding_rules() if row.pair}


@given(FOUND)
def test_a_pair_is_never_split(found):
    result = verdicts(found, understanding_rules())
    for name, components in PAIRS.items():
        members = {v.component for v in result if v.pair == name and v.act in STRENGTH[:2]}
        assert members in (set(), components)


@given(FOUND)
def test_a_new_deck_never_goes_under_an_old_belt_nor_a_new_belt_on_a_deck_found_worn(found):
    result = {v.component: v.act for v in verdicts(found, understanding_rules())}
    worn = {"grooved", "worn-through", "worn-other-face-sound"}
    if result.get("deck") == "replace":
        assert result.get("running-belt") == "replace"
    if result.get("running-belt") == "replace" and any(
        component == "deck" and condition in worn for component, condition in found
    ):
        assert result["deck"] in ("replace", "service")


@given(FOUND, st.randoms(use_true_random=False))
def test_the_order_and_number_of_findings_change_nothing(found, chance):
    shuffled = found * 2
    chance.shuffle(shuffled)
    rules = understanding_rules()
    assert verdicts(shuffled, rules) == verdicts(found, rules)


@given(FOUND)
def test_each_component_has_one_verdict(found):
    names = [v.component for v in verdicts(found, understanding_rules())]
    assert len(names) == len(set(names))
