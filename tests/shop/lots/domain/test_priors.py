import tomllib

import pytest

from shop.lots.domain.assumptions import TABLE, table
from shop.lots.domain.inputs import Price
from shop.lots.domain.priors import (
    CLUB,
    CRITICAL,
    HOME,
    OTHERS,
    WEARS,
    stated_market,
    stated_odds,
    stated_reserve,
    stated_rules,
)

KINDS = tomllib.loads((TABLE.parent / "kinds.toml").read_text(encoding="utf-8"))


def test_odds_count_for_the_stated_number_of_machines():
    belt = stated_odds("T9/belt", CLUB, "running-belt", WEARS)
    assert belt.key == "T9/belt"
    assert belt.alpha + belt.beta == pytest.approx(table()["odds"]["counts_as"])
    assert belt.alpha / (belt.alpha + belt.beta) == pytest.approx(0.6)


@pytest.mark.parametrize("source", [CLUB, HOME])
@pytest.mark.parametrize("sort", [WEARS, CRITICAL, OTHERS])
def test_a_place_that_is_not_named_goes_by_its_sort(source, sort):
    odds = stated_odds("any", source, "fan", sort)
    assert odds.alpha / (odds.alpha + odds.beta) == pytest.approx(table()["odds"][source][sort])


def test_every_place_that_is_named_is_one_of_a_kind():
    places = set(KINDS["components"])
    named = {slug for source in (CLUB, HOME) for slug in table()["odds"][source]}
    assert named - {WEARS, CRITICAL, OTHERS} <= places
    assert {slug for rule in stated_rules() for slug in (*rule.when, rule.then)} <= places


def test_club_machines_are_worn_more_than_home_ones():
    for slug in ("running-belt", "deck", "drive-belt"):
        club, home = (stated_odds("any", one, slug, WEARS) for one in (CLUB, HOME))
        assert club.alpha > home.alpha


def test_a_market_of_which_only_a_price_is_known():
    market = stated_market(900.0)
    assert market.price == Price(900.0, table()["market"]["level_sd"], table()["market"]["own_sd"])
    assert 0 < market.falls < 1


def test_a_reserve_goes_by_what_is_asked_else_by_what_it_is_worth():
    assert stated_reserve(4000.0, 9000.0).median == pytest.approx(3000)
    assert stated_reserve(None, 5000.0).median == pytest.approx(3000)
    assert stated_reserve(None, -20.0) is None
