import pytest
from scipy import stats

from shop.lots.domain.odds import STRATA, strata


@pytest.mark.parametrize(
    ("alpha", "beta"),
    [(0.5, 0.5), (1, 1), (1, 30), (2, 8), (30, 70), (400, 1600), (0.3, 12), (9, 1)],
)
def test_the_strata_stand_for_the_beta_distribution(alpha, beta):
    """Mean, variance and the middle against scipy.stats.beta."""
    values, beta_of = strata(alpha, beta), stats.beta(alpha, beta)
    assert len(values) == STRATA
    assert values.mean() == pytest.approx(beta_of.mean(), rel=1e-4)
    assert values.var() == pytest.approx(beta_of.var(), rel=0.01)
    lower, upper = beta_of.ppf([126 / STRATA, 130 / STRATA])
    assert lower <= values[127] <= values[128] <= upper


def test_a_beta_distribution_has_positive_parameters():
    with pytest.raises(ValueError, match="above nothing"):
        strata(0, 3)
