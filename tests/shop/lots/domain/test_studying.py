import numpy as np
import pytest

from shop.lots.domain.inputs import Odds
from shop.lots.domain.streams import stream
from shop.lots.domain.studying import (
    Judged,
    learn,
    new_shop,
    study_shop,
    tuned_rule,
)
from shop.lots.domain.worlds import (
    Offered,
    assumptions_of,
    draw_offer,
    draw_world,
    lot_of,
    what_came,
)

STAGES = (0, 2, 4)


def judged(**figures):
    usual = {"learnt": 0, "rank": 0.5, "offer": 500.0, "rule": 300.0, "knowing": 450.0}
    return Judged(**{**usual, "net": 900.0, "reserve": 400.0, **figures})


def test_a_lot_is_won_at_the_price_that_was_offered():
    assert judged().won
    assert judged().gain(500.0) == 400
    assert judged().gain(300.0) == 0
    assert not judged(offer=399.0).won
    assert judged().best == 500
    assert judged(net=300.0).best == 0


def offered(listed, reserve):
    return Offered((0,), 1, frozenset(), 1.0, reserve, listed)


def test_the_rule_of_thumb_is_the_share_that_would_have_brought_most():
    """By hand: 0.4 wins the first lot for 400 (600 left), 0.5 both for 1,000 (400 + 100)."""
    lots = [offered(1000, 400), offered(1000, 500)]
    assert tuned_rule(lots, [1000, 600]) == pytest.approx(0.4)
    assert tuned_rule(lots, [1000, 900]) == pytest.approx(0.5)
    assert tuned_rule(lots, [100, 100]) < 0.4


def test_a_shop_learns_from_a_lot_about_its_models_only():
    source = stream(3, "world", "1")
    world = draw_world(source)
    shop, lot = new_shop(world), draw_offer(world, source)
    believed = lot_of(lot, shop.models, assumptions_of([(0.3, 0.3)]))
    after = learn(shop, lot, what_came(world, lot, believed))
    for at, (old, new) in enumerate(zip(shop.models, after.models, strict=True)):
        assert (old == new) == (at not in lot.models)
        cases = [one.odds.alpha + one.odds.beta for one in new.components]
        assert min(cases) >= 6 - 1e-9
        assert (min(cases) > 6.5) == (at in lot.models)
    for key, odds in after.routes.items():
        seen = int(key.split("/")[0].split("-")[1]) in lot.models
        assert odds.alpha + odds.beta == pytest.approx(7 if seen else 6)
    assert after.weights.logs != shop.weights.logs


def test_what_is_learnt_of_a_route_becomes_its_chance():
    source = stream(3, "world", "1")
    world = draw_world(source)
    shop, lot = new_shop(world), draw_offer(world, source)
    believed = lot_of(lot, shop.models, assumptions_of([(0.3, 0.3)]))
    after = learn(shop, lot, what_came(world, lot, believed))
    route = after.models[lot.models[0]].components[0].routes[0]
    odds: Odds = after.routes[route.key]
    assert route.chance == pytest.approx(odds.alpha / (odds.alpha + odds.beta))


@pytest.fixture(scope="module")
def one_life():
    return study_shop(1, 5, STAGES, 3)


def test_a_life_is_judged_on_the_same_lots_after_each_stage(one_life):
    assert [one.learnt for one in one_life] == [stage for stage in STAGES for _ in range(3)]
    reserves = np.array([one.reserve for one in one_life]).reshape(len(STAGES), 3)
    assert (reserves == reserves[0]).all()
    assert all(0 <= one.rank <= 1 for one in one_life)


def test_nobody_gains_more_than_who_knows_everything(one_life):
    for one in one_life:
        for offer in (one.offer, one.rule, one.knowing):
            assert one.gain(offer) <= one.best + 1e-6


def test_a_life_can_be_lived_again(one_life):
    again = study_shop(1, 5, STAGES, 3)
    assert again == one_life
