import numpy as np
import pytest
from scipy import stats

from shop.lots.domain.reserve import LogNormalReserve, TriangularReserve

OFFERS = np.linspace(0, 2500, 101)


def test_a_lognormal_reserve():
    """Against scipy.stats.lognorm."""
    wanted = stats.lognorm(0.35, scale=800).cdf(OFFERS)
    reserve = LogNormalReserve(800, 0.35)
    assert np.abs(reserve.accepts(OFFERS) - wanted).max() < 1e-5
    assert reserve.accepts(reserve.highest) > 0.9999


@pytest.mark.parametrize("mode", [200.0, 900.0, 1400.0, 2000.0])
def test_a_triangular_reserve(mode):
    """Against scipy.stats.triang."""
    wanted = stats.triang((mode - 200) / 1800, 200, 1800).cdf(OFFERS)
    reserve = TriangularReserve(200.0, mode, 2000.0)
    assert np.abs(reserve.accepts(OFFERS) - wanted).max() < 1e-9
    assert reserve.accepts(reserve.highest) == 1


def test_reserves_that_mean_nothing_are_refused():
    with pytest.raises(ValueError, match="above nothing"):
        LogNormalReserve(0, 0.3)
    with pytest.raises(ValueError, match="stands between"):
        TriangularReserve(3, 2, 9)
