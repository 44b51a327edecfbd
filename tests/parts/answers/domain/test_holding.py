import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, stats

from parts.answers.domain.holding import (
    Prior,
    Sequel,
    Watched,
    asked_share,
    posterior,
    still_holds,
    watched,
)

YEAR = 365.25
PRIOR = Prior(shape=1.5, years=6.0)


@pytest.mark.parametrize("shape", [0.5, 1.0, 1.5, 4.0])
@pytest.mark.parametrize("years", [0.0, 0.1, 1.0, 8.0])
def test_with_known_days_of_change_the_closed_form_holds(shape, years):
    # Gamma prior and exponential waiting times: the posterior is gamma, its predictive
    # survival (b / (b + t)) ** a, the Lomax distribution of scipy.stats.
    rate = posterior(Prior(shape, 2.0), Watched(same_years=9.0, exact=3, exact_years=4.0))
    a, b = shape + 3, 2.0 + 9.0 + 4.0
    assert rate.holds(years) == pytest.approx((b / (b + years)) ** a, rel=1e-9)
    assert rate.holds(years) == pytest.approx(stats.lomax.sf(years, a, scale=b), rel=1e-9)
    assert rate.mean() == pytest.approx(a / b, rel=1e-9)


@pytest.mark.parametrize(
    "seen",
    [
        Watched(same_years=3.0, changed={0.5: 1}),
        Watched(same_years=20.0, changed={0.2: 4, 1.5: 3, 4.0: 1}),
        Watched(changed={2.0: 30}),
        Watched(same_years=400.0, changed={0.01: 2}, exact=5, exact_years=3.0),
    ],
)
@pytest.mark.parametrize("years", [0.08, 0.5, 3.0])
@pytest.mark.parametrize("wrong", [0.0, 0.03, 0.2])
def test_with_changes_between_two_answers_scipy_integrates_the_same(seen, years, wrong):
    spoilt = 1 - (1 - wrong) ** 2

    def density(rate, times=1.0):
        value = stats.gamma.pdf(rate, PRIOR.shape, scale=1 / PRIOR.years) * times
        value *= math.exp(-rate * (seen.same_years + seen.exact_years)) * rate**seen.exact
        for gap, count in seen.changed.items():
            value *= (1 - (1 - spoilt) * math.exp(-rate * gap)) ** count
        return value

    learnt = posterior(PRIOR, seen, wrong)
    most = learnt.mean()
    cuts = [most * factor for factor in (0.1, 0.3, 1, 2, 5)]
    options = {"points": cuts, "limit": 500, "epsabs": 0, "epsrel": 1e-10}
    whole, _error = integrate.quad(density, 0, most * 60, **options)
    kept, _error = integrate.quad(
        lambda rate: density(rate, math.exp(-rate * years)), 0, most * 60, **options
    )
    assert learnt.holds(years) == pytest.approx(kept / whole, rel=1e-7)


gaps = st.floats(0.01, 10)


@given(gaps, gaps, st.dictionaries(gaps, st.integers(1, 20), max_size=5))
def test_a_word_never_gets_surer_with_age(one, other, changed):
    rate = posterior(PRIOR, Watched(same_years=5.0, changed=changed))
    younger, older = sorted([one, other])
    assert 0 <= rate.holds(older) <= rate.holds(younger) <= 1 + 1e-12


@given(gaps, st.dictionaries(gaps, st.integers(1, 5), max_size=3))
def test_an_answer_that_agrees_makes_the_next_one_last_longer(gap, changed):
    before = posterior(PRIOR, Watched(same_years=1.0, changed=changed))
    after = posterior(PRIOR, Watched(same_years=1.0 + gap, changed=changed))
    assert after.holds(1.0) >= before.holds(1.0) - 1e-12


def test_gaps_are_counted_by_what_came_after_them():
    seen = watched(
        [
            Sequel("supported", 366, changed=False),
            Sequel("supported", 366, changed=False),
            Sequel("supported", 40, changed=True),
            Sequel("supported", 40, changed=True),
            Sequel("supported", 100, changed=True, exact=True),
            Sequel("supported", 0, changed=True),
        ]
    )
    assert seen.same_years == pytest.approx(732 / YEAR)
    assert seen.changed == {40 / YEAR: 2}
    assert (seen.exact, seen.exact_years) == (1, pytest.approx(100 / YEAR))


def test_answers_that_may_be_wrong_prove_less_of_a_change():
    seen = Watched(same_years=10.0, changed={0.5: 3})
    assert posterior(PRIOR, seen, wrong=0.1).mean() < posterior(PRIOR, seen).mean()


def test_a_word_may_have_been_wrong_on_its_first_day():
    rate = posterior(PRIOR, Watched())
    assert still_holds(rate, 0, wrong=0.03) == pytest.approx(0.97)


def test_the_share_of_the_unasked_moves_from_its_prior_to_what_was_answered():
    # Mean of a beta posterior, scipy.stats.beta.
    assert asked_share(0.6, 5, yes=7, asked=8) == pytest.approx(stats.beta.mean(3 + 7, 2 + 1))
    assert asked_share(0.6, 5, yes=0, asked=0) == pytest.approx(0.6)
