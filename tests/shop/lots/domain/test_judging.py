import numpy as np
import pytest
from scipy.stats import binomtest

from shop.lots.domain.judging import (
    exact_share,
    mean_by_cluster,
    rank_histogram,
    rank_of,
    share_by_cluster,
    within,
)


def test_a_rank_is_the_share_of_the_draws_below_ties_by_half():
    draws = np.array([1.0, 2.0, 2.0, 3.0])
    assert [rank_of(value, draws) for value in (0, 2, 2.5, 9)] == [0, 0.5, 0.75, 1]


def test_right_predictions_make_a_flat_histogram():
    source = np.random.default_rng(2)
    ranks = [rank_of(source.normal(), source.normal(size=400)) for _ in range(2000)]
    counts = rank_histogram(ranks, 10)
    assert sum(counts) == 2000
    assert max(abs(count - 200) for count in counts) < 4 * np.sqrt(200 * 0.9)


def test_too_sure_predictions_make_a_bowl():
    source = np.random.default_rng(2)
    ranks = [rank_of(source.normal(), source.normal(0, 0.4, 400)) for _ in range(1000)]
    counts = rank_histogram(ranks, 10)
    assert min(counts[0], counts[-1]) > 2 * max(counts[3:7])


def test_the_middle_of_a_prediction():
    assert [within(rank, 0.8) for rank in (0.05, 0.1, 0.5, 0.9, 0.95)] == [
        False, True, True, True, False
    ]  # fmt: skip


def test_the_error_of_a_share_is_that_of_its_clusters():
    """Monte Carlo: the interval holds the true share 80 % in about 95 of 100 studies of 60 shops
    whose own shares differ."""
    source = np.random.default_rng(7)
    held = 0
    for _ in range(600):
        shares = source.beta(8, 2, 60)
        study = share_by_cluster([source.random(10) < share for share in shares])
        held += study.low <= 0.8 <= study.high
    assert held / 600 == pytest.approx(0.95, abs=4 * np.sqrt(0.95 * 0.05 / 600))


def test_one_cluster_tells_nothing_of_its_error():
    study = share_by_cluster([[True, False, True, True]])
    assert (study.value, study.low, study.high) == (0.75, 0, 1)


def test_nothing_to_judge_is_refused():
    with pytest.raises(ValueError, match="nothing to judge"):
        share_by_cluster([[], []])


def test_the_mean_over_clusters():
    """By hand: 1, 2, 3 have the mean 2 and the standard error 1 / sqrt(3)."""
    mean = mean_by_cluster([1.0, 2.0, 3.0])
    assert mean.value == 2
    assert mean.high - 2 == pytest.approx(1.959964 / np.sqrt(3))
    assert 2 - mean.low == pytest.approx(mean.high - 2)
    with pytest.raises(ValueError, match="one cluster"):
        mean_by_cluster([1.0])


@pytest.mark.parametrize(("hits", "count"), [(0, 1), (1, 1), (3, 5), (8, 10), (0, 12), (31, 40)])
def test_the_exact_interval_of_a_share_is_that_of_scipy(hits, count):
    """scipy.stats.binomtest(...).proportion_ci(method="exact"), Clopper and Pearson (1934)."""
    share, wanted = exact_share(hits, count), binomtest(hits, count).proportion_ci(method="exact")
    assert share.value == hits / count
    assert (share.low, share.high) == pytest.approx((wanted.low, wanted.high), abs=1e-9)


def test_without_a_trial_there_is_no_share():
    with pytest.raises(ValueError, match="nothing to judge"):
        exact_share(0, 0)
