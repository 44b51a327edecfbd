"""The measuring tools against published figures: REFERENCE, sections 1, 5, 6 and 6a, and libraries.

The grade of each figure stands beside it: V read at the source named, C computed from such, M from
memory.
"""

from math import isclose, sqrt

import pytest
from fluids.piping import t_from_gauge
from scipy import stats
from uncertainties import correlated_values_norm, nominal_value, ufloat, umath

from units.inspections.domain.measures.conductors import (
    ALPHA,
    GAUGES,
    cord_drop,
    diameter,
    ohms_a_metre,
)
from units.inspections.domain.measures.facts import EVENLY, Instruments
from units.inspections.domain.measures.friction import (
    belt_power,
    friction,
    power_drawn,
    watts_expected,
)
from units.inspections.domain.measures.odds import Populations, beyond, odds_of
from units.inspections.domain.measures.outcome import rounded
from units.inspections.domain.measures.ribbed import mass, tension

THOUSAND_FEET = 304.8


# JCGM 100:2008 (GUM), example H.2, by a public metrology package's documentation [V second-hand].
@pytest.mark.parametrize(
    ("of", "value", "uncertainty", "places"),
    [
        (lambda v, i, phi: v / i * umath.cos(phi), 127.732, 0.070, 3),
        (lambda v, i, phi: v / i * umath.sin(phi), 219.85, 0.30, 2),
        (lambda v, i, phi: v / i, 254.26, 0.24, 2),
    ],
    ids=["resistance", "reactance", "impedance"],
)
def test_gum_h_2_three_correlated_inputs(of, value, uncertainty, places):
    told = [(4.999, 0.0032), (19.661e-3, 9.5e-6), (1.04446, 7.5e-4)]
    correlations = [[1, -0.36, 0.86], [-0.36, 1, -0.65], [0.86, -0.65, 1]]
    found = of(*correlated_values_norm(told, correlations))
    assert round(found.nominal_value, places) == value
    # The inputs' uncertainties are printed to two figures, so the result's agrees to the last one.
    assert abs(found.std_dev - uncertainty) <= 1.5 * 10**-places


def test_gum_4_3_7_an_even_spread_of_half_width_a_has_the_deviation_a_over_root_three():
    # GUM 4.3.7, equation (7) [M]; scipy's uniform distribution as the oracle.
    assert stats.uniform(-1, 2).std() == pytest.approx(1 / EVENLY)


def test_gum_7_2_6_an_uncertainty_is_given_to_two_figures_and_the_value_to_the_same_decimal():
    # GUM 7.2.6: 10.05762 ohm with 27 milliohm is given as 10.058 ohm [M].
    assert [str(one) for one in rounded(10.05762, 0.027)] == ["10.058", "0.027"]


# Worked page example: 0.11 kg/m, 0.17 m; 220 Hz prints 610 N (exact 615.45) [V/C].
def test_the_tension_of_a_belt_by_its_sound():
    assert tension(0.11, 0.17, 220) == pytest.approx(615.45, abs=0.005)
    hertz = sqrt(624 / (4 * 0.11 * 0.17**2))
    assert round(hertz, 1) == 221.5
    assert tension(0.11, 0.17, hertz) == pytest.approx(624)


# Belt makers' catalogues, kg/m for one rib [V].
@pytest.mark.parametrize(
    ("section", "rib"), [("PH", 0.005), ("PJ", 0.009), ("PK", 0.021), ("PL", 0.037), ("PM", 0.12)]
)
def test_the_mass_of_a_belt_is_ribs_times_the_catalogues_figure(section, rib):
    assert mass(section, 6).nominal_value == pytest.approx(6 * rib)


def test_the_section_on_which_catalogues_disagree_is_as_uncertain_as_they_differ():
    # PK: 0.021, others print 0.0144; uncertain by 30 per cent [V].
    assert mass("PK", 1).std_dev == pytest.approx(0.30 * 0.021 / EVENLY)


@pytest.mark.parametrize("gauge", GAUGES)
def test_diameters_by_gauge_against_the_library_fluids(gauge):
    # fluids.piping.t_from_gauge, schedule AWG, inches to four decimals.
    inches = t_from_gauge(gauge, False, "AWG")
    assert diameter(gauge) / 0.0254 == pytest.approx(inches, abs=0.00005)


# Ohm for 1000 ft at 20 degrees Celsius [V].
@pytest.mark.parametrize(
    ("gauge", "ohms"), [(18, 6.385), (16, 4.016), (14, 2.525), (12, 1.588), (10, 0.9989)]
)
def test_resistance_at_20_degrees(gauge, ohms):
    assert ohms_a_metre(gauge) * THOUSAND_FEET == pytest.approx(ohms, rel=5e-4)


# NEC chapter 9, table 8, at 75 degrees Celsius, solid, by a public code [V].
@pytest.mark.parametrize(
    ("gauge", "ohms"), [(18, 7.77), (16, 4.89), (14, 3.07), (12, 1.93), (10, 1.21)]
)
def test_resistance_at_75_degrees(gauge, ohms):
    # Within one of the last digit printed.
    assert ohms_a_metre(gauge, 75) * THOUSAND_FEET == pytest.approx(ohms, abs=0.01)


def test_the_code_s_own_correction_from_75_to_20_degrees():
    # 7.77 (1 + 0.00323 (20 - 75)) = 6.39 [C]; ours, with 0.00393 from 20 degrees, goes there too.
    assert round(7.77 * (1 + 0.00323 * (20 - 75)), 2) == 6.39
    assert isclose(7.77 / (1 + ALPHA * 55), 6.39, rel_tol=2e-3)


def test_what_fifty_feet_of_14_gauge_take_at_12_amperes():
    # 2 I R L with NEC's 3.07 ohm a thousand feet gives 3.68 V [C]; ours is of bare copper.
    assert round(2 * 12 * 3.07 * 50 / 1000, 2) == 3.68
    assert cord_drop(14, 50 * 0.3048, 12, 75) == pytest.approx(3.68, abs=0.015)


# 80 kg, coefficient 0.25, 3 mph (1.34112 m/s), efficiency 0.70: 263.0 W at the belt, 375.7 W,
# 3.13 A at 120 V and power factor 1 [C].
def test_the_worked_example_of_friction_forward():
    at_belt = belt_power(0.25, 80, 1.34112)
    drawn = watts_expected(0.25, 0, 0.70, 80, 1.34112)
    assert round(at_belt, 1) == 263.0
    # Printed 375.7, which is the printed 263.0 through 0.70; unrounded on the way it is 375.77.
    assert round(263.0 / 0.70, 1) == 375.7
    assert drawn == pytest.approx(375.7, abs=0.1)
    assert round(drawn / 120, 2) == 3.13


def test_the_worked_example_of_friction_backward():
    watts = power_drawn(120, 3.131)
    assert friction(watts, 0, 0.70, 80, 1.34112) == pytest.approx(0.25, rel=1e-3)


def test_the_uncertainty_of_friction_is_that_of_the_law_of_propagation_by_hand():
    """A product of powers: relative variances add (GUM 5.1.6, equation 12 [M])."""
    watts, walker, speed = ufloat(400, 8), ufloat(80, 1), ufloat(1.34112, 0.01)
    efficiency = ufloat(0.70, 0.06)
    found = friction(watts, 0.0, efficiency, walker, speed)
    shares = [one.std_dev / one.nominal_value for one in (watts, walker, speed, efficiency)]
    assert found.std_dev / found.nominal_value == pytest.approx(sqrt(sum(s**2 for s in shares)))


def test_what_one_meter_is_off_by_drops_out_of_a_ratio():
    """Fully correlated shares cancel: closed form."""
    meter = Instruments()
    one, other = meter.read("tachometer", 100.0), meter.read("tachometer", 50.0)
    assert nominal_value(one / other) == 2
    assert (one / other).std_dev == pytest.approx(0, abs=1e-12)


@pytest.mark.parametrize("value", [0.12, 0.2, 0.26, 0.3, 0.5])
def test_odds_against_bayes_by_numerical_integration(value):
    """Lognormal populations and a lognormal measurement, integrated by scipy."""
    among, uncertainty = Populations(0.194, 0.36, 0.24, 0.30, 0.4), 0.03
    own = uncertainty / value
    grid = [0.02 * 1.002**step for step in range(2500)]

    def weights(median):
        prior = stats.lognorm(among.spread, scale=median).pdf(grid)
        seen = stats.lognorm(own, scale=grid).pdf(value)
        return [a * b * g for a, b, g in zip(prior, seen, grid, strict=True)]  # even in log

    new, worn = weights(among.new), weights(among.worn)
    new = [(1 - among.before) * one for one in new]
    worn = [among.before * one for one in worn]
    whole = sum(new) + sum(worn)
    far = sum(n + w for n, w, g in zip(new, worn, grid, strict=True) if g > among.threshold)
    found = odds_of(value, uncertainty, among)
    assert found.worn == pytest.approx(sum(worn) / whole, abs=1e-4)
    assert found.beyond == pytest.approx(far / whole, abs=3e-3)


@pytest.mark.parametrize(("value", "most"), [(1.0, 1.0), (1.1, 1.0), (0.9, 1.2)])
def test_a_chance_beyond_a_limit_against_scipy(value, most):
    assert beyond(ufloat(value, 0.1), most) == pytest.approx(stats.norm(value, 0.1).sf(most))
