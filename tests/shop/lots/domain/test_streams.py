import numpy as np
from scipy import stats

from shop.lots.domain.streams import draw16, stream


def test_a_name_always_draws_the_same():
    first, second = (draw16(stream(7, "machine", "u1"), 3) for _ in range(2))
    assert np.array_equal(first, second)


def test_names_and_seeds_draw_apart():
    drawn = [
        draw16(stream(seed, *names), 4).ravel()
        for seed, names in [(7, ("machine", "u1")), (7, ("machine", "u2")), (8, ("machine", "u1"))]
    ]
    drawn.append(draw16(stream(7, "machineu", "1"), 4).ravel())
    off = np.corrcoef(np.array(drawn, float)) - np.eye(4)
    assert np.abs(off).max() < 4.5 / np.sqrt(drawn[0].size)


def test_the_numbers_are_uniform():
    """Chi-squared over the 256 upper bytes, scipy; the seed is fixed, so it always is the same."""
    drawn = draw16(stream(11, "any"), 64)
    counts = np.bincount((drawn >> 8).ravel(), minlength=256)
    assert stats.chisquare(counts).pvalue > 0.001
