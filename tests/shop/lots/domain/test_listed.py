"""Goods and machines of a list by hand computation."""

from decimal import Decimal

import pytest

from shop.lots.domain.listed import (
    GoodsLine,
    MachineLine,
    Wanted,
    goods_of,
    in_measure,
    line_of,
    machines_of,
    mass_of,
    said_dead,
)
from shop.lots.domain.lists.matching import Candidate, Known
from shop.lots.domain.lists.source import Draft
from shop.lots.domain.lists.words import goods as sorts
from tests.shop.lots.domain.building import component, model

POUND = Decimal("0.45359237")  # NIST SP 811 (2008), appendix B.8


def goods(sort, measure, quantity, pieces=None):
    return GoodsLine("r1", sort, sort, measure, Decimal(quantity), pieces)


@pytest.mark.parametrize(
    ("line", "quantity"),
    [
        (goods("plates", "lb", 900), 900),
        (goods("plates", "kg", 100), Decimal(100) / POUND),
        (goods("benches", "piece", 4), 4),
        (goods("benches", "pair", 4), 8),
        (goods("flooring", "sqm", 10), 10 / Decimal("0.09290304")),
    ],
)
def test_goods_are_priced_in_the_measure_of_their_sort(line, quantity):
    assert float(in_measure(line, sorts()[line.sort])) == pytest.approx(float(quantity))


def test_counted_plates_weigh_what_a_usual_one_does():
    line = goods("plates", "piece", 3)
    assert mass_of(line, sorts()["plates"]) == 45.0
    assert float(in_measure(line, sorts()["plates"])) == pytest.approx(45 / float(POUND))


def test_pieces_lighter_than_a_crate_share_crates_and_heavier_ones_go_alone():
    """By hand: 18 kettlebells of 14 kg are 252 kg, 5 crates; 3 racks of 90 kg are 3 loads."""
    assert goods_of(goods("kettlebells", "piece", 18, 18)).pieces == 5
    assert goods_of(goods("racks", "piece", 3, 3)).pieces == 3
    assert goods_of(goods("others", "piece", 1, 1)).pieces == 1


def test_goods_by_mass_go_into_crates_of_sixty_kilograms():
    """By hand: 900 lb are 408.2 kg, 7 crates of 58.3 kg."""
    found = goods_of(goods("plates", "lb", 900))
    assert found.pieces == 7
    assert found.load.mass == pytest.approx(58.32, abs=0.01)
    assert found.price.mean == float(sorts()["plates"].rate)


def test_machines_are_counted_by_piece_the_dear_models_first():
    cheap, dear = model(component("deck"), price=300.0), model(component("deck"), price=900.0)
    one, other = Wanted(1, "treadmill"), Wanted(2, "treadmill")
    lines = [MachineLine("r1", "A", one, 2), MachineLine("r2", "B", other, 1, dead=1)]
    found = machines_of(lines, {one: cheap, other: dear})
    assert [machine.key for machine in found] == ["r2-1", "r1-1", "r1-2"]
    assert [machine.ran for machine in found] == [False, True, True]


@pytest.mark.parametrize(
    ("note", "dead"),
    [
        ("belt is DEAD", 4),
        ("won’t start", 4),
        ("taken  apart, in two rooms", 4),
        ("runs fine, deck noisy", 0),
        ("", 0),
        ("1 dead", 1),
        ("two don't run, rest good", 2),
        ("one of them is not working", 1),
        ("1 of 4 dead, 1 for parts", 2),
        ("9 broken", 4),
        ("unit 3 is dead", 1),
        ("#3 dead, #4 won't start", 2),
        ("T9 dead", 4),
    ],
)
def test_a_note_tells_how_many_of_four_are_said_not_to_run(note, dead):
    assert said_dead(note, 4) == dead


def test_a_line_is_taken_for_the_model_that_it_matches():
    known = Known(7, "Corvane", "T9", "treadmill")
    draft = Draft("machine", "corvane t9", "B4", candidates=(Candidate(known, 0.9),), count=3)
    line = line_of(draft, "r4")
    assert (line.wanted, line.count, line.dead) == (Wanted(7, "treadmill"), 3, 0)


def test_a_line_that_matches_no_model_well_is_one_of_its_kind():
    known = Known(7, "Corvane", "T9", "treadmill")
    draft = Draft("machine", "old bike", "B4", kind="rower", candidates=(Candidate(known, 0.6),))
    assert line_of(draft, "r4").wanted == Wanted(None, "rower")


def test_a_line_of_which_nobody_knows_the_kind_is_not_valued():
    assert line_of(Draft("machine", "a thing", "B4"), "r4") is None
    assert line_of(Draft("goods", "a thing", "B4", goods="unheard"), "r4") is None
