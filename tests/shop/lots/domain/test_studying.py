import numpy as np
import pytest
from scipy import stats

from shop.lots.domain.inputs import Odds
from shop.lots.domain.prices import Terms
from shop.lots.domain.streams import stream
from shop.lots.domain.studying import (
    Judged,
    Sellers,
    Truth,
    learn,
    new_shop,
    study_shop,
    tuned_rule,
)
from shop.lots.domain.worlds import (
    RESERVE_SD,
    RESERVE_SHARE,
    SHARE_SD,
    assumptions_of,
    draw_offer,
    draw_world,
    lot_of,
    what_came,
)

STAGES = (0, 2, 4)


def truth(net=900.0, reserve=400.0, listed=1000.0):
    return Truth(listed=listed, reserve=reserve, back=net + 100.0, costs=100.0)


def judged(**more):
    offers = {"bid": 500.0, "rule": 300.0, "knowing": 450.0}
    return Judged(0, 0.5, truth(**more), offers)


def test_a_lot_is_won_at_the_price_that_was_offered():
    assert judged().won("bid")
    assert judged().gain("bid") == 400
    assert judged().gain("rule") == 0
    assert not judged(reserve=501.0).won("bid")
    assert judged().best == 500
    assert judged(net=300.0).best == 0


def test_the_rule_of_thumb_is_the_share_that_would_have_brought_most():
    """By hand: 0.4 wins the first lot for 400; 0.5 wins both for 1,000 and brings 100 less there
    and 100 or 400 more."""
    worse = [truth(1000, 400), truth(550, 500)]
    better = [truth(1000, 400), truth(900, 500)]
    assert tuned_rule(worse, None) == pytest.approx(0.4)
    assert tuned_rule(better, None) == pytest.approx(0.5)
    assert tuned_rule([truth(100, 400), truth(100, 500)], None) == 0


def test_within_terms_the_rule_of_thumb_meets_the_margin():
    """By hand: at 500 the second lot leaves 400 of 600, two thirds; the first 500 of 600."""
    lots = [truth(1000, 400), truth(900, 500)]
    assert tuned_rule(lots, Terms(0.6, 0.9)) == pytest.approx(0.5)
    assert tuned_rule(lots, Terms(0.7, 0.9)) == pytest.approx(0.4)
    assert tuned_rule(lots, Terms(0.7, 0.5)) == pytest.approx(0.5)
    assert tuned_rule(lots, Terms(3.0, 0.5)) == 0


def test_sellers_are_learnt_as_a_normal_logarithm():
    """Against the conjugate posterior by scipy's densities on a grid."""
    shares = [0.3, 0.45, 0.22]
    belief = Sellers()
    for share in shares:
        belief = belief.heard(share)
    grid = np.linspace(-3, 0.5, 20_001)
    weight = stats.norm(np.log(RESERVE_SHARE), SHARE_SD).pdf(grid)
    for share in shares:
        weight = weight * stats.norm(grid, RESERVE_SD).pdf(np.log(share))
    weight /= weight.sum()
    assert belief.log_share == pytest.approx(weight @ grid, abs=1e-6)
    assert belief.log_sd == pytest.approx(
        np.sqrt(weight @ grid**2 - (weight @ grid) ** 2), rel=1e-5
    )
    assert belief.reserve(1000.0).sd == pytest.approx(np.hypot(belief.log_sd, RESERVE_SD))


@pytest.fixture(scope="module")
def taken_in():
    """A shop before and after one lot, and the lot."""
    source = stream(3, "world", "1")
    world = draw_world(source)
    shop, lot = new_shop(world), draw_offer(world, source)
    believed = lot_of(lot, shop.models, assumptions_of([(0.3, 0.3)]))
    return shop, learn(shop, lot, what_came(world, lot, believed)), lot


def test_a_shop_learns_from_a_lot_about_its_models_only(taken_in):
    shop, after, lot = taken_in
    for at, (old, new) in enumerate(zip(shop.models, after.models, strict=True)):
        assert (old == new) == (at not in lot.models)
        cases = [one.odds.alpha + one.odds.beta for one in new.components]
        assert (min(cases) > 6.5) == (at in lot.models)
    assert after.weights.logs != shop.weights.logs


def test_what_is_learnt_of_a_route_becomes_its_chance(taken_in):
    _, after, lot = taken_in
    for key, odds in after.routes.items():
        seen = int(key.split("/")[0].split("-")[1]) in lot.models
        assert odds.alpha + odds.beta == pytest.approx(7 if seen else 6)
    route = after.models[lot.models[0]].components[0].routes[0]
    odds: Odds = after.routes[route.key]
    assert route.chance == pytest.approx(odds.alpha / (odds.alpha + odds.beta))


@pytest.fixture(scope="module")
def one_life():
    return study_shop(1, 5, STAGES, 3)


def test_a_life_is_judged_on_the_same_lots_after_each_stage(one_life):
    assert [one.learnt for one in one_life] == [stage for stage in STAGES for _ in range(3)]
    reserves = np.array([one.truth.reserve for one in one_life]).reshape(len(STAGES), 3)
    assert (reserves == reserves[0]).all()
    assert all(0 <= one.rank <= 1 for one in one_life)


def test_nobody_gains_more_than_who_knows_everything(one_life):
    for one in one_life:
        assert set(one.offers) == {"bid", "free_bid", "rule", "free_rule", "knowing"}
        for name in one.offers:
            assert one.gain(name) <= one.best + 1e-6


def test_a_life_can_be_lived_again(one_life):
    assert study_shop(1, 5, STAGES, 3) == one_life
