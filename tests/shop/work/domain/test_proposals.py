"""Common practice, no published source."""

from decimal import Decimal

import pytest

from shop.till.domain.pricing import MarkUpStep, PriceRules
from shop.work.domain.proposals import FittingPart, Suspicion, propose, split_pairs
from units.inspections.domain.understanding import Verdict, verdicts
from units.inspections.selectors import understanding_rules

RULES = PriceRules(Decimal(80), Decimal(30), (MarkUpStep(Decimal(0), Decimal("1.5")),))
MINUTES = {("replace", "running-belt"): 60, ("replace", "deck"): 75, ("service", "deck"): 30}


def verdict(component, act, pair=""):
    return Verdict(component, act, False, f"{component} {act}", "", "rule", "practice", pair)


def part(number, cost, quantity="1"):
    return FittingPart(number, f"part {number}", Decimal(quantity), cost and Decimal(cost))


BELT = verdict("running-belt", "replace", "belt-and-deck")
DECK = verdict("deck", "replace", "belt-and-deck")


def test_a_replacement_is_a_part_at_cost_times_mark_up_and_its_labour():
    made = propose([BELT], {"running-belt": [part(1, "80")]}, MINUTES, RULES)
    assert [(one.line_class, one.wording, one.unit_price) for one in made] == [
        ("part", "part", Decimal("120.00")),
        ("labour", "replace", Decimal("80.00")),
    ]


def test_every_line_carries_the_reason_of_its_verdict():
    made = propose([BELT, DECK], {}, MINUTES, RULES)
    assert [one.reason for one in made] == ["running-belt replace"] * 2 + ["deck replace"] * 2


def test_a_pair_comes_out_whole():
    made = propose([BELT, DECK], {}, MINUTES, RULES)
    parts = [one.component for one in made if one.line_class == "part"]
    assert parts == ["running-belt", "deck"]


def test_what_is_only_expected_or_cleared_makes_no_line():
    assert propose([verdict("deck", "expect"), verdict("fan", "clear")], {}, MINUTES, RULES) == []


def test_cause_and_consequence_come_onto_one_estimate():
    found = [("deck", "grooved"), ("motor-control-board", "burnt")]
    made = propose(verdicts(found, understanding_rules(), "treadmill"), {}, MINUTES, RULES)
    parts = {one.component for one in made if one.line_class == "part"}
    assert parts == {"deck", "running-belt", "motor-control-board"}


def test_an_expected_pair_is_no_pair_of_an_estimate():
    """What nobody looked at is priced in a bid, never promised to a customer."""
    found = verdicts([], understanding_rules(), "treadmill", "club")
    assert split_pairs(found, ["running-belt"], ["running-belt"]) == []


def test_a_component_without_a_known_part_has_a_line_to_be_priced():
    made = propose([BELT], {}, MINUTES, RULES)[0]
    assert (made.wording, made.unit_price, made.part) == ("part-to-find", Decimal(0), None)


def test_a_part_whose_cost_nobody_knows_has_a_line_to_be_priced():
    made = propose([BELT], {"running-belt": [part(1, None)]}, MINUTES, RULES)[0]
    assert (made.wording, made.unit_price, made.part.part) == ("part", Decimal(0), 1)


@pytest.mark.parametrize(
    ("fits", "chosen"),
    [
        ([part(1, "80"), part(2, "60")], 2),
        ([part(1, None), part(2, "60")], 2),
        ([part(1, None), part(2, None)], 1),
        ([part(1, "80"), part(2, "45", "2")], 1),  # two of the cheaper one cost more
    ],
)
def test_the_cheapest_part_of_known_cost_is_proposed(fits, chosen):
    assert propose([BELT], {"running-belt": fits}, MINUTES, RULES)[0].part.part == chosen


def test_as_many_parts_are_proposed_as_the_model_takes():
    made = propose([BELT], {"running-belt": [part(1, "10", "4")]}, MINUTES, RULES)[0]
    assert made.quantity == Decimal(4)


def test_a_service_is_labour_alone():
    made = propose([verdict("deck", "service")], {"deck": [part(1, "9")]}, MINUTES, RULES)
    assert [(one.wording, one.minutes, one.unit_price) for one in made] == [
        ("service", 30, Decimal("40.00"))
    ]


def test_a_suspect_is_time_to_find_the_cause():
    made = propose(
        [verdict("drive-motor", "suspect")], {}, {("diagnose", "drive-motor"): 30}, RULES
    )
    assert [(one.wording, one.unit_price) for one in made] == [("diagnose", Decimal("40.00"))]


def test_a_finding_that_no_rule_explains_is_looked_into():
    made = propose([Suspicion("fan", "Found odd.")], {}, {}, RULES)
    assert [(one.wording, one.reason) for one in made] == [("diagnose", "Found odd.")]


def test_work_without_a_flat_rate_is_left_to_be_priced():
    made = propose([verdict("fan", "service")], {}, {}, RULES)[0]
    assert (made.minutes, made.unit_price) == (0, Decimal("0.00"))


def test_a_cleared_component_asks_for_nothing():
    assert propose([verdict("keypad-overlay", "clear")], {}, {}, RULES) == []


@pytest.mark.parametrize(
    ("there", "split"),
    [
        ({"running-belt", "deck"}, []),
        (set(), []),
        ({"running-belt"}, [["running-belt", "deck"]]),
        ({"deck", "fan"}, [["running-belt", "deck"]]),
    ],
)
def test_half_of_a_pair_is_found_out(there, split):
    assert split_pairs([BELT, DECK, verdict("fan", "replace")], there, there) == split


@pytest.mark.parametrize(
    ("with_parts", "split"),
    [
        (["running-belt"], [["running-belt", "deck"]]),
        (["running-belt", "deck"], []),
        ([], []),  # the owner brings both parts
    ],
)
def test_labour_alone_does_not_keep_a_pair_together(with_parts, split):
    assert split_pairs([BELT, DECK], ["running-belt", "deck"], with_parts) == split


def test_a_deck_that_is_turned_needs_no_part():
    turned = verdict("deck", "service", "belt-and-deck")
    assert split_pairs([BELT, turned], ["running-belt", "deck"], ["running-belt"]) == []
    assert split_pairs([BELT, turned], ["running-belt"], ["running-belt"]) != []
