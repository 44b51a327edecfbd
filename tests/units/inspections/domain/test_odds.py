"""The odds of replacement against scipy, closed forms and what must hold for any counts."""

import tomllib
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import betabinom

from units.inspections.domain.odds import (
    CLUB,
    LEVELS,
    POPULATIONS,
    PRIVATE,
    REPAIR,
    TABLE,
    Cell,
    Prior,
    Stated,
    Tally,
    chance,
    chances,
    parse_replacement,
    stated,
)
from units.inspections.domain.tables import TableError

BELT = Cell("treadmill", "running-belt")
STRENGTHS = {"grade": 20, "model": 12, "hours": 12, "state": 12}


def believed(mean=0.2, counts_as=10, elsewhere=0.25, **strengths) -> Stated:
    priors = {("treadmill", "running-belt"): dict.fromkeys(POPULATIONS, Prior(mean, counts_as))}
    return Stated(priors, STRENGTHS | strengths, elsewhere, (0, 500, 2000))


def told(looked, worn, cell=BELT, **other) -> Tally:
    return Tally(replace(cell, **other), looked, worn)


COUNTS = st.integers(0, 60).flatmap(lambda n: st.tuples(st.just(n), st.integers(0, n)))
OTHERS = st.lists(
    st.builds(
        lambda counts, grade, model, state, population: told(
            *counts, grade=grade, model=model, hours="0-", state=state, population=population
        ),
        COUNTS,
        st.sampled_from(["residential", "commercial"]),
        st.sampled_from([1, 2]),
        st.sampled_from(["run", "powered"]),
        st.sampled_from(POPULATIONS),
    ),
    max_size=6,
)
ASKED = replace(BELT, grade="commercial", model=1, state="run")


def test_without_outcomes_the_prior_stands_alone():
    odds = chance(BELT, [], believed())
    assert (odds.alpha, odds.beta) == pytest.approx((2, 8))
    assert odds.prior_only
    assert (odds.looked_here, odds.looked_elsewhere) == (0, 0)


def test_one_ring_is_the_textbook_posterior():
    # Closed form: a beta prior (2, 8) and 7 of 9 give beta (9, 10). REFERENCE.md, section 14.
    odds = chance(BELT, [told(9, 7)], believed())
    assert (odds.alpha, odds.beta) == pytest.approx((9, 10))
    assert odds.mean == pytest.approx(9 / 19)
    assert (odds.worn_here, odds.looked_here, odds.effective) == (7, 9, 9)


@given(COUNTS)
def test_the_mean_is_the_predictive_chance_of_the_beta_binomial(counts):
    """Oracle scipy: the chance that the next one is worn, from two neighbouring marginals.

    The chance of an ordered run of n looks, k of them worn, is pmf(k; n) / C(n, k).
    """
    looked, worn = counts
    odds = chance(BELT, [told(looked, worn)], believed())
    longer = betabinom(looked + 1, 2, 8).pmf(worn + 1) * (worn + 1) / (looked + 1)
    assert odds.mean == pytest.approx(longer / betabinom(looked, 2, 8).pmf(worn))


@pytest.mark.parametrize("machines", [1, 3, 40])
def test_how_many_of_a_lot_need_it_is_the_beta_binomial_of_scipy(machines):
    odds = chance(BELT, [told(9, 7), told(30, 4, population=CLUB)], believed())
    mean, variance = betabinom(machines, odds.alpha, odds.beta).stats("mv")
    assert odds.among(machines) == pytest.approx((mean, variance))


def test_two_rings_by_hand():
    """Closed form: outside (2, 8) and 10 of 30 give (12, 28), of the strength 40; a strength of
    20 halves it to (6, 14); 3 of 4 inside make (9, 15). Half of the outer 30 looks is heard."""
    ask = replace(BELT, grade="commercial")
    tallies = [told(30, 10, grade="residential"), told(4, 3, grade="commercial")]
    odds = chance(ask, tallies, believed())
    assert (odds.alpha, odds.beta) == pytest.approx((9, 15))
    assert odds.effective == pytest.approx(15 + 4)
    assert (odds.worn_here, odds.looked_here) == (3, 4)
    assert (odds.worn_elsewhere, odds.looked_elsewhere) == (10, 30)


def test_passing_inwards_never_adds_strength():
    ask = replace(BELT, grade="commercial", model=7, hours="0-", state="run")
    odds = chance(ask, [], believed(counts_as=3))
    assert odds.alpha + odds.beta == pytest.approx(3)


@given(OTHERS, st.integers(0, 5))
def test_a_further_worn_one_raises_the_odds_and_a_sound_one_lowers_them(tallies, place):
    more = Tally(tallies[place].cell if place < len(tallies) else ASKED, 1, 1)
    before = chance(ASKED, tallies, believed()).mean
    assert chance(ASKED, [*tallies, more], believed()).mean >= before - 1e-12
    sound = replace(more, worn=0)
    assert chance(ASKED, [*tallies, sound], believed()).mean <= before + 1e-12


@given(OTHERS)
def test_the_odds_lie_between_the_prior_and_the_shares_seen(tallies):
    shares = [tally.worn / tally.looked for tally in tallies if tally.looked] + [0.2]
    mean = chance(ASKED, tallies, believed()).mean
    assert min(shares) - 1e-12 <= mean <= max(shares) + 1e-12


@given(OTHERS)
def test_discount_nothing_leaves_other_populations_out(tallies):
    ours = [tally for tally in tallies if tally.cell.population == REPAIR]
    only = chance(ASKED, tallies, believed(elsewhere=0))
    assert only.mean == pytest.approx(chance(ASKED, ours, believed(elsewhere=0)).mean)
    assert only.effective == pytest.approx(chance(ASKED, ours, believed(elsewhere=0)).effective)


@given(OTHERS)
def test_discount_one_pools_the_populations(tallies):
    as_ours = [replace(one, cell=replace(one.cell, population=REPAIR)) for one in tallies]
    pooled = chance(ASKED, tallies, believed(elsewhere=1))
    assert pooled.mean == pytest.approx(chance(ASKED, as_ours, believed()).mean)


@given(OTHERS)
def test_what_is_heard_and_the_prior_make_up_the_whole(tallies):
    odds = chance(ASKED, tallies, believed())
    assert 0 <= odds.effective < odds.alpha + odds.beta
    assert odds.outcomes == sum(tally.looked for tally in tallies)


@given(st.integers(1, 500))
def test_many_outcomes_outweigh_the_prior(tenths):
    odds = chance(BELT, [told(10 * tenths, 9 * tenths)], believed())
    assert abs(odds.mean - 0.9) <= 0.7 * 10 / (10 + 10 * tenths) + 1e-12


def test_a_level_that_is_not_asked_narrows_nothing():
    tallies = [told(5, 1, grade="light", model=3), told(5, 4, grade="commercial", model=4)]
    assert chance(BELT, tallies, believed()).looked_here == 10


def test_many_cells_at_once_are_each_its_own():
    deck = replace(BELT, component="deck")
    both = chances([BELT, deck, BELT], [told(5, 5), told(4, 1, cell=deck)], stated())
    assert both == {
        BELT: chance(BELT, [told(5, 5)], stated()),
        deck: chance(deck, [told(4, 1, cell=deck)], stated()),
    }


@pytest.mark.parametrize(
    ("worn", "percent"), [(0, 1), (2000, 99), (1000, 50)], ids=["none", "all", "half"]
)
def test_nothing_is_said_to_be_certain(worn, percent):
    assert chance(BELT, [told(2000, worn)], believed()).percent == percent


@pytest.mark.parametrize(
    ("mean", "word"),
    [
        (0.04, "seldom"),
        (0.05, "sometimes"),
        (0.3, "often"),
        (0.5, "mostly"),
        (0.8, "nearly-always"),
    ],
)
def test_a_chance_has_a_word(mean, word):
    # Common practice, no published source.
    assert chance(BELT, [], believed(mean=mean)).frequency == word


@pytest.mark.parametrize(
    ("hours", "band"),
    [(None, "not-known"), (0, "0-"), (499, "0-"), (500, "500-"), (99000, "2000-")],
)
def test_hours_fall_into_bands(hours, band):
    assert believed().band(hours) == band


# What the shop ships.
KINDS = tomllib.loads((Path(TABLE).parent / "kinds.toml").read_text())["kinds"]
PAIRS = {
    (kind["slug"], component)
    for kind in KINDS
    for group in ("wears", "critical", "others")
    for component in kind[group]
}


def test_every_component_of_every_kind_has_a_prior_and_nothing_else_has():
    assert set(stated().priors) == PAIRS
    assert set(stated().strengths) == set(LEVELS)


@pytest.mark.parametrize("component", ["running-belt", "deck", "drive-belt"])
def test_a_club_machine_is_expected_to_want_belt_deck_and_drive_belt(component):
    # TRADE.md, "Where it comes from": common practice, no published source.
    said = stated().priors["treadmill", component]
    assert said[CLUB].chance >= 0.5
    assert said[CLUB].chance > 2 * said[PRIVATE].chance * 0.99


def test_repair_customers_bring_broken_machines():
    # Common practice, no published source.
    said = stated().priors["treadmill", "motor-control-board"]
    assert said[REPAIR].chance > said[PRIVATE].chance


def a_table(**changes) -> dict:
    row = {"treadmill": {"deck": [0.1, 0.2, 0.3, 8]}}
    return {"elsewhere": 0.2, "bands": [500, 0], "strengths": STRENGTHS, "priors": row} | changes


def test_a_table_is_read_into_priors_by_population():
    read = parse_replacement(a_table(), "replacement.toml")
    assert read.prior(replace(BELT, component="deck", population=CLUB)) == Prior(0.3, 8)
    assert read.bands == (0, 500)


@pytest.mark.parametrize(
    ("changes", "names"),
    [
        ({"elsewhere": 1.5}, "between 0 and 1"),
        ({"strengths": STRENGTHS | {"grade": 0}}, "strength"),
        ({"strengths": {"grade": 1}}, "strength"),
        ({"priors": {"rower": {"monitor": [0.1, 0.2, 8]}}}, "rower.monitor"),
        ({"priors": {"rower": {"monitor": [0.1, 0.2, 1, 8]}}}, "rower.monitor"),
        ({"priors": {"rower": {"monitor": [0.1, 0.2, 0.3, 0]}}}, "rower.monitor"),
    ],
)
def test_a_faulty_table_is_refused_by_name(changes, names):
    with pytest.raises(TableError, match=names):
        parse_replacement(a_table(**changes), "replacement.toml")
