"""Supply and cords; limits are common practice, no published source, unless said otherwise."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from units.inspections.domain.measures.conductors import cord_drop, cord_resistance, diameter
from units.inspections.domain.measures.facts import Instruments, assumption, facts
from units.inspections.domain.measures.outcome import rounded
from units.inspections.domain.measures.ribbed import tension
from units.inspections.domain.measures.supply import (
    SupplyReadings,
    sag,
    source_resistance,
    suspects,
)


def asked(open_volts=120.0, loaded_volts=118.5, amps=8.0, **more):
    told = [ufloat(volts, 0.5) for volts in (open_volts, loaded_volts)]
    if "machine_volts" in more:
        more["machine_volts"] = ufloat(more["machine_volts"], 0.5)
    return {
        one.name: one.odds for one in suspects(SupplyReadings(*told, ufloat(amps, 0.2), **more))
    }


def test_ohm_s_law_gives_the_resistance_behind_the_outlet():
    assert source_resistance(120, 114, 12) == pytest.approx(0.5)
    assert sag(120, 114) == pytest.approx(0.05)


def test_a_good_supply_is_to_blame_for_nothing():
    assert max(odds for odds in asked().values() if odds is not None) < 0.05


def test_an_outlet_that_loses_a_tenth_is_to_blame_and_the_rest_is_not():
    odds = asked(loaded_volts=108)
    assert odds["outlet"] > 0.95
    assert odds["service"] < 0.05
    assert odds["reaches"] > 0.95


def test_a_low_service_is_told_from_a_weak_outlet():
    odds = asked(open_volts=111, loaded_volts=110)
    assert odds["service"] > 0.95
    assert odds["outlet"] < 0.05


def test_a_long_thin_cord_is_blamed_by_its_gauge_and_length_alone():
    assert asked(gauge=18, length=ufloat(15.24, 0.1), amps=12.0)["cord"] > 0.95
    assert asked(gauge=10, length=ufloat(3.0, 0.1), amps=8.0)["cord"] < 0.05


def test_a_cord_that_takes_more_than_its_copper_explains_has_a_bad_contact():
    bad = asked(gauge=12, length=ufloat(7.6, 0.1), machine_volts=112.0, amps=12.0)
    assert bad["contacts"] > 0.95
    sound = asked(gauge=12, length=ufloat(7.6, 0.1), machine_volts=117.6, amps=12.0)
    assert sound["contacts"] < 0.5


def test_a_machine_above_its_rating_is_suspected_and_without_a_rating_nothing_is_said():
    assert asked(amps=14.0, rated_amps=12.0)["machine"] > 0.95
    assert asked()["machine"] is None
    assert asked()["cord"] is None
    assert asked()["contacts"] is None


def test_limits_follow_the_nominal_voltage():
    odds = asked(open_volts=230, loaded_volts=228, nominal=240.0)
    assert odds["service"] < 0.05
    assert asked(open_volts=220, loaded_volts=218, nominal=240.0)["service"] > 0.95


@given(st.floats(1, 20), st.floats(1, 20), st.floats(1, 50))
def test_a_cord_takes_more_at_more_current(one, other, length):
    low, high = sorted([one, other])
    assert cord_drop(14, length, low) <= cord_drop(14, length, high)


def test_thinner_longer_and_warmer_resists_more():
    assert cord_resistance(18, 10) > cord_resistance(16, 10) > cord_resistance(16, 5)
    assert cord_resistance(16, 10, 60) > cord_resistance(16, 10, 20)
    assert diameter(18) < diameter(10)


@given(st.floats(0, 0.1), st.floats(0, 0.1))
def test_a_less_certain_sound_makes_a_less_certain_tension(one, other):
    less, more = sorted([one, other])
    found = [tension(0.05, 0.2, ufloat(100, 1e-9 + 100 * share)).std_dev for share in (less, more)]
    assert found[0] <= found[1]


@pytest.mark.parametrize(
    ("value", "uncertainty", "kept"),
    [
        (0.2613, 0.0345, ("0.261", "0.034")),
        (1234.6, 21.0, ("1235", "21")),
        (12.0, 0.0, ("12.0000", "0.0000")),
        (0.0, 0.0, ("0", "0")),
        (1e-9, 1e-10, ("0.000000", "0.000000")),
    ],
)
def test_a_result_is_rounded_to_what_is_known_of_it(value, uncertainty, kept):
    # GUM 7.2.6, from memory; a tie goes to the even digit.
    assert tuple(map(str, rounded(value, uncertainty))) == kept


def test_every_assumption_says_its_grade_and_source():
    rows = [assumption(key) for key in facts()["assumptions"]]
    assert {row.grade for row in rows} <= {"V", "C", "M"}
    assert all(row.source.endswith(".") and row.name for row in rows)
    guessed = [facts()["friction"], facts()["ratio"], facts()["worn_before"]]
    assert {row["grade"] for row in guessed} == {"M"}
    # What is from memory must say so, or that it is a habit of the trade.
    words = ("memory", "ommon practice", "own limit")
    assert all(any(word in row.source for word in words) for row in rows if row.grade == "M")


def test_another_value_of_an_assumption_is_as_uncertain_in_proportion():
    near = assumption("efficiency-cord").near(0.35)
    assert near.std_dev == pytest.approx(0.03)


def test_counted_turns_are_exact():
    assert Instruments().read("count", 20.0) == 20.0
