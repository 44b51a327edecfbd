"""The rules of wear and fault. Every fact here: common practice, no published source."""

from itertools import combinations, product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from units.inspections.domain.understanding import (
    CLEAR,
    NOT_POSSIBLE,
    REPLACE,
    SEEN,
    SERVICE,
    SEVERITY,
    STRENGTH,
    Rule,
    verdicts,
    with_seen,
)
from units.inspections.selectors import understanding_rules

COMMON_PRACTICE = "common practice, no published source"


# --- How rules are combined


def rule(key, when, act, **more):
    words = {"kinds": [], "all": [], "any": [], "none": [], "hold": False, "pair": ""} | more
    sets = {word: frozenset(words[word]) for word in ("kinds", "all", "none")}
    sets |= {
        word: frozenset(more[word])
        for word in ("populations", "because_of", "over")
        if word in more
    }
    return Rule(
        key=key,
        any=frozenset(when),
        verdicts=tuple(act.items()),
        hold=words["hold"],
        reason=key,
        caution="",
        source=COMMON_PRACTICE,
        pair=words["pair"],
        severity=more.get("severity", "wears"),
        **sets,
    )


WORN = ("belt", "worn")
DIRTY = ("belt", "dirty")


@pytest.mark.parametrize(("stronger", "weaker"), list(combinations(STRENGTH, 2)))
def test_the_stronger_act_speaks_wherever_its_row_stands(stronger, weaker):
    first = rule("first", [WORN], {"belt": weaker})
    second = rule("second", [DIRTY], {"belt": stronger})
    for rules in ([first, second], [second, first]):
        assert [v.act for v in verdicts([WORN, DIRTY], rules)] == [stronger]


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


def test_a_row_of_certain_populations_fires_for_those_only():
    row = rule("a", [], {"belt": "expect"}, none=[("belt", SEEN)], populations=["club"])
    assert verdicts([], [row], population="club")
    assert not verdicts([], [row], population="private")
    assert not verdicts([], [row])


def test_seen_is_whatever_was_found_and_not_possible_is_not_seen():
    assert with_seen([WORN, ("deck", NOT_POSSIBLE)]) == {
        WORN,
        ("belt", SEEN),
        ("deck", NOT_POSSIBLE),
    }


def test_what_nobody_looked_at_is_expected_until_somebody_has():
    row = rule("a", [], {"belt": "expect"}, none=[("belt", SEEN)], populations=["club"])
    unseen = [("belt", NOT_POSSIBLE)]
    assert [v.act for v in verdicts(unseen, [row], population="club")] == ["expect"]
    assert not verdicts([DIRTY], [row], population="club")


def test_a_row_silences_another_only_on_the_components_of_which_it_speaks():
    rules = [
        rule("weak", [WORN], {"belt": "replace", "deck": "clear"}),
        rule("firm", [WORN], {"belt": "service"}, over=["weak"]),
    ]
    acts = {v.component: v.act for v in verdicts([WORN], rules)}
    assert acts == {"belt": "service", "deck": "clear"}


def test_the_cause_is_named_only_where_it_was_found():
    row = rule(
        "a",
        [("deck", "grooved"), ("belt", "glazed")],
        {"board": "replace"},
        all=[("board", "burnt")],
        because_of=["deck", "belt"],
    )
    (verdict,) = verdicts([("board", "burnt"), ("deck", "grooved")], [row])
    assert verdict.because_of == ("deck",)


def test_what_is_only_suspected_has_no_cause_yet():
    row = rule("a", [WORN], {"motor": "suspect"}, because_of=["belt"])
    assert [v.because_of for v in verdicts([WORN], [row])] == [()]


def test_the_worst_severity_of_those_that_speak_is_kept():
    rules = [
        rule("a", [WORN], {"belt": "replace"}, severity="wears"),
        rule("b", [WORN], {"belt": "suspect"}, severity="spreads"),
    ]
    assert [v.severity for v in verdicts([WORN], rules)] == ["spreads"]


# --- The table that the shop ships: every row fires


RULES = understanding_rules()


def _minimal(row):
    """The least sets of findings that make a row fire: one for each of its choices."""
    return [
        frozenset(pair for pair in row.all | ({choice} if choice else set()) if pair[1] != SEEN)
        for choice in sorted(row.any) or [None]
    ]


def _population(*rows):
    return next((sorted(row.populations)[0] for row in rows if row.populations), "")


@pytest.mark.parametrize("row", RULES, ids=lambda row: row.key)
def test_every_row_fires_on_the_least_that_should_make_it_and_its_components_are_spoken_of(row):
    for found in _minimal(row):
        for kind in row.kinds or [""]:
            assert row.fires(with_seen(found), kind, _population(row))
            spoken = {v.component for v in verdicts(found, RULES, kind, _population(row))}
            assert {component for component, _ in row.verdicts} <= spoken


def test_every_row_gives_the_reason_for_something_that_can_be_found():
    """No row stands for ever in the shadow of an earlier one."""
    heard = set()
    for row in RULES:
        for found, kind in product(_minimal(row), row.kinds or [""]):
            heard |= {v.rule for v in verdicts(found, RULES, kind, _population(row))}
    assert {row.key for row in RULES} - heard == set()


def _meeting():
    """Every two rows with a set of findings on which both fire, for a kind that both know."""
    for one, other in combinations(RULES, 2):
        kinds = one.kinds & other.kinds or one.kinds | other.kinds or {""}
        if one.kinds and other.kinds and not one.kinds & other.kinds:
            continue
        for first, second in product(_minimal(one), _minimal(other)):
            found = first | second
            for kind in sorted(kinds):
                rows = [
                    row
                    for row in (one, other)
                    if row.fires(with_seen(found), kind, _population(one, other))
                ]
                if len(rows) == 2:
                    yield one, other, found, kind


MEETING = list(_meeting())


def test_no_two_rows_contradict_each_other_without_saying_which_goes_before():
    """To replace a component and to clear it of blame cannot both be meant."""
    assert MEETING
    unsettled = {
        (one.key, other.key, component)
        for one, other, _found, _kind in MEETING
        for component in dict(one.verdicts).keys() & dict(other.verdicts)
        if {dict(one.verdicts)[component], dict(other.verdicts)[component]} == {REPLACE, CLEAR}
        and other.key not in one.over
        and one.key not in other.over
    }
    assert unsettled == set()


def test_a_row_that_goes_before_another_is_not_gone_before_by_it_and_meets_it():
    met = {frozenset((one.key, other.key)) for one, other, _found, _kind in MEETING}
    for row in RULES:
        for key in row.over:
            assert frozenset((row.key, key)) in met, (row.key, key)
            assert row.key not in next(other for other in RULES if other.key == key).over


def test_nothing_that_holds_the_machine_is_cleared_of_blame_by_another_row():
    for one, other, found, kind in MEETING:
        said = {v.component: v for v in verdicts(found, RULES, kind, _population(one, other))}
        for verdict in said.values():
            assert not (verdict.act == CLEAR and verdict.hold), (one.key, other.key)


@pytest.mark.parametrize("row", [row for row in RULES if row.because_of], ids=lambda row: row.key)
def test_cause_and_consequence_both_stand_on_the_estimate(row):
    """Common practice, no published source: a consequence replaced alone is a repeat failure."""
    for found, kind in product(_minimal(row), row.kinds or [""]):
        said = {v.component: v for v in verdicts(found, RULES, kind)}
        for component, act in row.verdicts:
            if act == REPLACE:
                assert said[component].because_of
                for cause in said[component].because_of:
                    assert said[cause].act in (REPLACE, SERVICE)


def test_every_severity_is_used_and_only_a_danger_holds():
    assert {row.severity for row in RULES} == set(SEVERITY)
    assert all(row.hold == (row.severity == "danger") for row in RULES)


def test_what_is_only_suspected_on_a_treadmill_says_what_to_look_at_next():
    for row in RULES:
        if set(dict(row.verdicts).values()) == {"suspect"} and len(row.verdicts) > 1:
            assert row.checks, row.key


def test_every_row_says_that_it_has_no_published_source():
    assert {row.source for row in understanding_rules()} == {COMMON_PRACTICE}


EVERYTHING = sorted(set().union(*(row.all | row.any | row.none for row in RULES)))
FOUND = st.lists(st.sampled_from(EVERYTHING), max_size=10)
PAIRS = {
    "belt-and-deck": {"running-belt", "deck"},
    "wheels-and-rails": {"ramp-wheels", "ramp-rails"},
    "arm-and-pedal": {"crank-arms", "pedals"},
}
POPULATION = st.sampled_from(["", "club", "private", "repair"])


def test_the_pairs_of_the_table_are_those_of_the_trade():
    found = {}
    for row in RULES:
        if row.pair:
            found.setdefault(row.pair, set()).update(name for name, _ in row.verdicts)
    assert {name: PAIRS[name] & names for name, names in found.items()} == PAIRS


@given(FOUND, POPULATION)
def test_a_pair_is_never_split(found, population):
    result = verdicts(found, RULES, population=population)
    for name, components in PAIRS.items():
        members = {v.component for v in result if v.pair == name and v.act in STRENGTH[:3]}
        assert members in (set(), components)


@given(FOUND)
def test_a_new_deck_never_goes_under_an_old_belt_nor_a_new_belt_on_a_deck_found_worn(found):
    result = {v.component: v.act for v in verdicts(found, RULES)}
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
    rules = RULES
    assert verdicts(shuffled, rules) == verdicts(found, rules)


@given(FOUND)
def test_each_component_has_one_verdict(found):
    names = [v.component for v in verdicts(found, RULES)]
    assert len(names) == len(set(names))
