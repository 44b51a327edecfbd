"""The arithmetic of the study against published values and an independent counting."""

import math

import pytest

from units.plates.domain.study import (
    Trial,
    percentile,
    reliability,
    resampled_bound,
    share,
    upper_bound,
)


def trial(family="a", *, sure=True, right=True, confidence=0.95, tier="easy"):
    said = (confidence, "sure" if sure else "look", right)
    return Trial(family, tier, said[1], {"model": said, "serial": (0.99, "sure", True)}, 1.0)


@pytest.mark.parametrize("count", [10, 59, 299, 1000])
def test_none_wrong_gives_the_closed_form(count):
    """Clopper-Pearson with no event: 1 - alpha^(1/n); 59 clean items show at most 5 % (the
    95/95 rule of reliability testing), 299 at most 1 %."""
    assert upper_bound(0, count) == pytest.approx(1 - 0.05 ** (1 / count), abs=1e-12)


def test_the_rule_of_three():
    """Hanley and Lippman-Hand, JAMA 249 (1983) 1743: none of n means at most about 3/n."""
    assert upper_bound(0, 600) == pytest.approx(3 / 600, rel=0.01)


@pytest.mark.parametrize(
    ("wrong", "count", "bound"),
    [
        # Means of Poisson counts, one-sided 95 %: 4.744 for 1, 6.296 for 2, 7.754 for 3
        # (chi-square / 2, standard tables); for a small share the binomial bound tends to mean / n.
        (1, 100_000, 4.744),
        (2, 100_000, 6.296),
        (3, 100_000, 7.754),
    ],
)
def test_few_wrong_of_many_agree_with_the_poisson_table(wrong, count, bound):
    assert upper_bound(wrong, count) * count == pytest.approx(bound, rel=2e-3)


def test_the_bound_leaves_exactly_the_stated_chance():
    bound = upper_bound(3, 40)
    chance = sum(math.comb(40, k) * bound**k * (1 - bound) ** (40 - k) for k in range(4))

    assert chance == pytest.approx(0.05, abs=1e-9)


def test_all_wrong_or_nothing_seen_says_nothing():
    assert upper_bound(4, 4) == 1.0
    assert upper_bound(0, 0) == 1.0


def test_one_bad_family_weighs_more_when_families_are_drawn():
    spread = [trial(f"f{at % 10}", right=at % 100 != 7) for at in range(1000)]
    heaped = [trial(f"f{at % 10}", right=not (at % 10 == 7 and at < 100)) for at in range(1000)]

    assert share(spread, lambda one: one.wrong_but_sure) == share(
        heaped, lambda one: one.wrong_but_sure
    )
    assert resampled_bound(heaped) > upper_bound(10, 1000)
    assert resampled_bound([trial(f"f{at}") for at in range(10)]) == 0


def test_reliability_counts_each_reading_once():
    trials = [trial(confidence=c, right=r) for c, r in [(1.0, True), (0.95, True), (0.95, False)]]

    rows = reliability(trials, "model")

    assert [(row.count, row.came_true) for row in rows] == [(2, 0.5), (1, 1.0)]


def test_percentiles_are_values_that_occurred():
    assert percentile([4, 1, 3, 2], 0.5) == 2
    assert percentile(list(range(1, 101)), 0.95) == 95
