"""What is known of a model against hand computation; the stated figures are those of lots.toml."""

import math
from decimal import Decimal

import pytest

from parts.support.domain.coverage import Need
from parts.support.domain.routes import Offer
from shop.floor.domain.worth import Worth
from shop.lots.domain.assumptions import table
from shop.lots.domain.composing import (
    ModelFacts,
    PlaceFacts,
    market_of,
    model_of,
    routes_of,
    shrunk_months,
    spare_worth,
)
from shop.lots.domain.inputs import Market, Odds, Price

ODDS = Odds("belt", 2.0, 6.0)


def place(*offers, slug="speed-sensor", needs=None, **more):
    needs = needs or ((Need(offers),) if offers else ())
    return PlaceFacts(
        slug, more.pop("wears", False), more.pop("critical", False), ODDS, 40.0, needs
    )


def facts(*places, price=1000.0, **more):
    market = Market(Price(price), 2.0)
    return ModelFacts("Corvane T9", "treadmill", "Corvane", places, market, **{"had": 0.5, **more})


def ways(one, **more):
    return {route.key: route for route in routes_of(one, facts(one, **more), 50.0)}


def test_a_word_on_the_whole_model_is_one_fate_for_all_its_components():
    offer = Offer("maker", "supported", holds=0.9, breadth=0)
    first, second = (ways(place(offer, slug=slug)) for slug in ("speed-sensor", "fan"))
    assert first.keys() == second.keys() == {"maker//Corvane T9"}
    assert first["maker//Corvane T9"].chance == 0.9
    assert first["maker//Corvane T9"].call == "Corvane"


def test_a_word_on_one_component_is_a_fate_of_its_own():
    offer = Offer("maker", "supported", holds=0.9, breadth=1)
    assert set(ways(place(offer))) == {"maker//Corvane T9/speed-sensor"}


def test_a_part_is_one_fate_in_every_model_that_it_fits():
    offer = Offer("supplier", "supported", "Aldermere Parts", part=7, holds=0.8, cost=Decimal(30))
    (route,) = ways(place(offer)).values()
    assert route.key == "supplier/Aldermere Parts/part 7"
    assert (route.cost, route.call) == (30.0, "Aldermere Parts")


@pytest.mark.parametrize(
    ("offer", "chance"),
    [
        (Offer("maker", "ended", holds=0.7), 0.3),
        (Offer("maker", "no-answer", holds=0.0), 0.5),
        (Offer("maker", "not-asked", holds=0.4), 0.4),
        (Offer("maker", "back-ordered", holds=0.6), 0.6),
    ],
)
def test_what_is_no_fresh_yes_has_the_chance_that_it_is_one(offer, chance):
    (route,) = ways(place(offer)).values()
    assert route.chance == pytest.approx(chance)
    assert route.cost == 50.0


def test_a_published_end_leaves_no_way():
    assert not ways(place(Offer("maker", "ended", holds=0.99)))


def test_a_piece_on_the_shelf_serves_one_machine_alone():
    offer = Offer("shelf", "held", part=7, cost=Decimal(20))
    assert not ways(place(offer))
    (route,) = ways(place(offer), few=True).values()
    assert (route.chance, route.cost, route.call) == (1.0, 20.0, "")


def test_a_donors_piece_costs_nothing():
    (route,) = ways(place(Offer("donor", "held", "DN-1")), few=True).values()
    assert route.cost == 0.0


def test_of_two_positions_the_less_likely_one_decides_and_both_are_paid():
    """By hand: 30 for the sensor on the left, 20 for that on the right."""
    left = Need((Offer("supplier", "supported", "A", part=1, cost=Decimal(30), holds=0.9),))
    right = Need((Offer("supplier", "supported", "A", part=2, cost=Decimal(20), holds=0.6),))
    (route,) = ways(place(needs=(left, right))).values()
    assert (route.key, route.chance, route.cost) == ("supplier/A/part 2", 0.6, 50.0)


def test_a_belt_is_also_made_to_size_unless_somebody_was_asked():
    offer = Offer("maker", "supported", holds=0.9)
    made = table()["ways"][0]
    found = ways(place(offer, slug="running-belt"))
    assert found["made/usual/Corvane T9/running-belt"].cost == made["times"] * 50.0
    told = Offer("made", "supported", "Aldermere Belts", holds=0.8)
    assert len(ways(place(told, slug="running-belt"))) == 1


def test_a_lesser_fault_may_be_left_but_never_one_that_hurts_somebody():
    model = model_of(facts(place(), place(slug="power-cord"), place(slug="deck", wears=True)))
    left = {one.slug: [r for r in one.routes if r.key == "left"] for one in model.components}
    assert left["speed-sensor"][0].cost == table()["lesser"]["takes"] * 1000.0
    assert not left["power-cord"]
    assert not left["deck"]
    assert {one.slug for one in model.components if one.safety} == {"power-cord"}


def test_pairs_hold_only_where_both_places_are():
    belt = place(slug="running-belt", wears=True)
    assert model_of(facts(belt)).rules[0].then == "running-belt"
    assert not model_of(facts(place())).rules


def test_a_spare_is_worth_what_it_saves_times_the_chance_that_it_is_wanted():
    """Poisson: with a rate of 2 years x (1 + 0.3) machines x 0.25 it is wanted at all with
    ``1 - exp(-0.65)``."""
    assert spare_worth(place(), 1.0, 80.0) == pytest.approx(0.5 * 80 * (1 - math.exp(-0.65)))


def test_a_market_has_the_spread_of_its_worth():
    """Closed form: the mean of a lognormal is ``exp(mu + sigma^2 / 2)``."""
    worth = Worth(Decimal(600), Decimal(1000), Decimal(1667), 0, 0, True)
    market = market_of(worth, 0.30)
    total = math.hypot(market.price.level_sd, market.price.own_sd)
    assert market.price.own_sd == 0.30
    assert math.exp(-1.2815515655446004 * total) == pytest.approx(0.6)
    assert market.price.mean == pytest.approx(1000 * math.exp(total**2 / 2))


def test_months_to_sell_are_shrunk_towards_the_stated_ones():
    """By hand: four sales of two months believed, four of eight seen: the geometric middle."""
    assert shrunk_months(2.0, []) == pytest.approx(2.0)
    assert shrunk_months(2.0, [8.0] * 4) == pytest.approx(4.0)
