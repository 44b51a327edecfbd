import numpy as np
import pytest
from scipy import integrate, stats

from shop.lots.domain.inputs import Odds, Price
from shop.lots.domain.learning import (
    Outcome,
    alike,
    learn_odds,
    learn_price,
    learn_weights,
    lot_likelihoods,
    stated_weights,
)


def test_a_single_outcome_is_conjugate():
    """Beta(a, b) after one failure is Beta(a + 1, b), after one sound part Beta(a, b + 1)."""
    odds = Odds("belt", 2.0, 6.0)
    assert learn_odds(odds, 1, 0, 0.5) == Odds("belt", 3.0, 6.0)
    assert learn_odds(odds, 0, 1, 0.5) == Odds("belt", 2.0, 7.0)
    assert learn_odds(odds, 0, 0, 0.5) == odds


def test_machines_that_are_not_alike_count_in_full():
    assert learn_odds(Odds("belt", 2.0, 6.0), 3, 7, 0.0) == Odds("belt", 5.0, 13.0)


def test_machines_of_one_lot_count_by_their_design_effect():
    """The intraclass correlation of the outcomes from scipy's bivariate normal; the formula is its
    first order, so within a tenth here."""
    a, chance = 0.4, 0.3
    limit = stats.norm.ppf(chance)
    both = stats.multivariate_normal([0, 0], [[1, a * a], [a * a, 1]]).cdf([limit, limit])
    rho = (both - chance**2) / (chance * (1 - chance))
    assert alike(10, chance, a) == pytest.approx(1 / (1 + 9 * rho), rel=0.1)
    assert alike(1, chance, a) == 1
    assert alike(10, chance, 0.0) == 1


def test_a_price_is_learnt_as_a_normal_logarithm():
    """Against the posterior on a fine grid of levels: likelihood of the mean log ratio by
    scipy.stats.norm times the prior."""
    price, market, ratios = Price(900.0, 0.2, 0.15), 0.1, [1.2, 1.05, 1.31]
    learnt = learn_price(price, ratios, market)
    level = np.linspace(-1.5, 1.5, 20_001)
    noise = np.sqrt(market**2 + price.own_sd**2 / 3)
    off = np.mean(np.log(ratios)) + (market**2 + price.own_sd**2) / 2
    weight = stats.norm(-0.02, 0.2).pdf(level) * stats.norm(level, noise).pdf(off)
    weight /= weight.sum()
    assert learnt.mean == pytest.approx(900 * weight @ np.exp(level), rel=1e-6)
    sd = np.sqrt(weight @ level**2 - (weight @ level) ** 2)
    assert learnt.level_sd == pytest.approx(sd, rel=1e-6)
    assert learnt.own_sd == price.own_sd


def test_without_sales_or_doubt_a_price_stays():
    assert learn_price(Price(900.0, 0.2, 0.1), [], 0.1) == Price(900.0, 0.2, 0.1)
    assert learn_price(Price(900.0, 0.0, 0.1), [1.4], 0.1) == Price(900.0, 0.0, 0.1)


def test_the_likelihood_of_two_parts_in_one_machine_and_in_two():
    """Against scipy's bivariate normal: correlation a^2 + b^2 within, a^2 between."""
    a, b, chances = 0.5, 0.4, np.array([0.3, 0.15])
    limits = stats.norm.ppf(chances)
    both = np.array([True, True])
    for rho, lot in [
        (a * a + b * b, [Outcome(chances, both)]),
        (a * a, [Outcome(chances[:1], both[:1]), Outcome(chances[1:], both[1:])]),
    ]:
        wanted = stats.multivariate_normal([0, 0], [[1, rho], [rho, 1]]).cdf(limits)
        assert np.exp(lot_likelihoods(lot, np.array([(a, b)]))) == pytest.approx(wanted, rel=1e-4)


@pytest.mark.parametrize(("a", "b"), [(0.6, 0.2), (0.2, 0.6)])
def test_the_likelihood_of_a_whole_lot(a, b):
    """Eight machines with six parts each, against scipy's trapezoid on far finer steps."""
    lot = next(drawn(a, b, 1, np.random.default_rng(2)))
    limits, rest = stats.norm.ppf(lot[0].chances), np.sqrt(1 - a * a - b * b)
    steps = np.linspace(-6, 6, 481)
    fails = stats.norm.cdf((limits - a * steps[:, None, None] - b * steps[None, :, None]) / rest)
    heights = np.ones(len(steps))
    for one in lot:
        seen = np.where(one.failed, fails, 1 - fails).prod(axis=2)
        heights *= integrate.trapezoid(seen * stats.norm.pdf(steps), steps, axis=1)
    exact = integrate.trapezoid(heights * stats.norm.pdf(steps), steps)
    found = lot_likelihoods(lot, np.array([(a, b)]))[0]
    assert found == pytest.approx(np.log(exact), abs=1e-3)


def test_without_dependence_chances_multiply():
    lot = [Outcome(np.array([0.3, 0.2]), np.array([True, False]))] * 3
    assert np.exp(lot_likelihoods(lot, np.array([(0.0, 0.0)]))) == pytest.approx(
        (0.3 * 0.8) ** 3, rel=1e-3
    )


def drawn(a, b, lots, source):
    """Lots of eight machines with six parts each, drawn from the latent normal itself."""
    chances = np.array([0.1, 0.2, 0.3, 0.4, 0.15, 0.25])
    limits = stats.norm.ppf(chances)
    for _ in range(lots):
        lot = a * source.normal() + b * source.normal(size=(8, 1))
        latent = lot + np.sqrt(1 - a * a - b * b) * source.normal(size=(8, 6))
        yield [Outcome(chances, row) for row in latent < limits]


@pytest.mark.parametrize(("a", "b"), [(0.15, 0.5), (0.55, 0.25)])
def test_past_lots_tell_the_dependence_that_they_were_drawn_with(a, b):
    """Over sixty lots no other pair at some distance is as likely."""
    pairs = [(a + up, b + over) for up in (-0.15, 0, 0.15) for over in (-0.2, 0, 0.2)]
    lots = drawn(a, b, 60, np.random.default_rng(6))
    likely = sum(lot_likelihoods(lot, np.array(pairs)) for lot in lots)
    assert pairs[int(np.argmax(likely))] == (a, b)


def test_a_belief_moves_towards_what_was_seen():
    weights = stated_weights((0.3, 0.14), (0.35, 0.12))
    before = weights.means
    for lot in drawn(0.55, 0.0, 40, np.random.default_rng(6)):
        weights = learn_weights(weights, lot)
    assert weights.means[0] > before[0] + 0.05
    assert weights.means[1] < before[1] - 0.05


def test_some_pairs_stand_for_the_whole_belief():
    weights = stated_weights((0.3, 0.14), (0.35, 0.12))
    assert weights.shares.sum() == pytest.approx(1)
    assert np.mean(weights.some(400), axis=0) == pytest.approx(weights.means, abs=0.01)
    assert len(weights.some(16)) == 16
