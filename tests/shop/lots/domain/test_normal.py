import numpy as np
import pytest
from scipy import stats

from shop.lots.domain.normal import (
    EDGE,
    RESOLUTION,
    SIXTEEN_BITS,
    STEPS,
    chance_of,
    chances,
    mean_one,
    near_chance_of,
    quantiles16,
    thresholds,
    value_of,
)


def test_the_table_is_the_normal_distribution():
    """Against scipy.stats.norm."""
    steps = np.arange(-STEPS, STEPS + 1) / RESOLUTION
    assert np.abs(chances() - stats.norm.cdf(steps)).max() < 1e-15


def test_between_its_steps_it_stays_true():
    """Against scipy.stats.norm."""
    values = np.random.default_rng(4).uniform(-EDGE, EDGE, 5000)
    assert np.abs(chance_of(values) - stats.norm.cdf(values)).max() < 1e-9
    assert np.abs(near_chance_of(values) - stats.norm.cdf(values)).max() < 2**-17
    chances_ = np.random.default_rng(5).uniform(1e-5, 1 - 1e-5, 5000)
    assert np.abs(value_of(chances_) - stats.norm.ppf(chances_)).max() < 1e-7


def test_a_threshold_is_off_by_no_more_than_one_sixteen_bit_step():
    """For a latent value that never changes: the worst there is."""
    wanted = np.linspace(0, 1, 400_001)
    steps = np.rint(value_of(wanted).astype(np.float32) * np.float32(RESOLUTION)).astype(int)
    given = thresholds()[steps + STEPS] / SIXTEEN_BITS
    assert np.abs(given - wanted).max() <= 2**-16


def test_a_latent_value_that_varies_is_off_by_far_less():
    """The mean over a normal factor, against the closed form Phi(z / sqrt(1 + s^2))."""
    factor = stats.norm.ppf((np.arange(200_000) + 0.5) / 200_000)
    for value in (-2.0, -1.0, 0.3):
        steps = np.rint((value + 0.5 * factor) * RESOLUTION).astype(int) + STEPS
        given = np.take(thresholds(), steps, mode="clip").mean() / SIXTEEN_BITS
        assert abs(given - stats.norm.cdf(value / np.sqrt(1.25))) < 2**-19


def test_sixteen_bits_make_a_standard_normal():
    """Against the moments 0, 1, 0, 3 of the standard normal."""
    values = quantiles16().astype(float)
    assert values.mean() == pytest.approx(0, abs=1e-7)
    assert values.var() == pytest.approx(1, abs=1e-6)
    assert (values**4).mean() == pytest.approx(3, abs=0.005)
    assert stats.kstest(values, "norm").statistic < 2**-15


@pytest.mark.parametrize("sd", [0.0, 0.1, 0.6])
def test_lognormal_factors_have_the_mean_one(sd):
    factors = mean_one(sd, quantiles16()).astype(float)
    assert factors.mean() == pytest.approx(1, abs=2e-4)
    assert np.log(factors).std() == pytest.approx(sd, abs=1e-5)
