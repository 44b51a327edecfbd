import pytest

from shop.work.domain.closing import keys_for
from shop.work.domain.states import (
    ALL,
    DEEDS,
    STATES,
    WAYS,
    deeds_of,
    outcomes_of,
    way_of,
)

ENDS = {"handed-back", "cancelled", "taken-over"}


@pytest.mark.parametrize(
    ("origin", "deed", "purpose", "outcome", "to"),
    [
        ("logged", "offer", "customer", "", "estimated"),
        ("estimated", "yes", "customer", "", "approved"),
        ("estimated", "no", "customer", "", "estimated"),
        ("estimated", "no-but", "customer", "", "approved"),
        ("estimated", "sell-to-us", "customer", "bought", "taken-over"),
        ("approved", "start", "own", "", "in-work"),
        ("in-work", "close", "customer", "repaired", "closed"),
        ("in-work", "close", "warranty", "repaired", "closed"),
        ("estimated", "close", "customer", "declined", "closed"),
        ("logged", "close", "customer", "unsafe", "closed"),
        ("closed", "hand-back", "customer", "", "handed-back"),
        ("closed", "keep", "customer", "", "taken-over"),
        ("in-work", "cancel", "customer", "", "cancelled"),
    ],
)
def test_the_table_has_these_ways(origin, deed, purpose, outcome, to):
    assert way_of(origin, deed, purpose, outcome).to == to


@pytest.mark.parametrize(
    ("origin", "deed", "purpose", "outcome"),
    [
        ("logged", "start", "customer", ""),
        ("logged", "yes", "customer", ""),
        ("approved", "close", "customer", "repaired"),
        ("logged", "close", "customer", "declined"),
        ("estimated", "close", "own", "declined"),
        ("in-work", "close", "warranty", "declined"),
        ("estimated", "sell-to-us", "own", "bought"),
        ("closed", "hand-back", "own", ""),
        ("closed", "keep", "own", ""),
        ("closed", "cancel", "customer", ""),
        ("handed-back", "close", "customer", "repaired"),
        ("cancelled", "offer", "customer", ""),
        ("closed", "close", "customer", "repaired"),
    ],
)
def test_the_table_has_no_such_way(origin, deed, purpose, outcome):
    assert way_of(origin, deed, purpose, outcome) is None


def test_a_deed_leads_from_a_state_one_way_only():
    asked = [
        (way.origin, way.deed, purpose, way.outcome) for way in WAYS for purpose in way.purposes
    ]
    assert len(asked) == len(set(asked))


def test_the_table_speaks_only_of_what_there_is():
    assert {way.deed for way in WAYS} == set(DEEDS)
    assert {way.origin for way in WAYS} | {way.to for way in WAYS} == set(STATES)
    assert all(way.purposes <= ALL and way.seats for way in WAYS)


def test_our_own_stock_is_approved_by_the_owner_alone():
    assert way_of("estimated", "yes", "own").seats == {"owner"}


def test_closing_asks_for_the_conditions_of_its_outcome():
    assert way_of("in-work", "close", "customer", "repaired").conditions == keys_for("repaired")
    assert "test-missing" in keys_for("repaired")
    assert "test-missing" not in keys_for("unsafe")


def test_nothing_leads_out_of_the_ends():
    for purpose in ALL:
        assert not any(deeds_of(end, purpose) for end in ENDS)
    assert not deeds_of("closed", "own")


def test_every_state_can_be_reached_from_the_counter():
    reached, edge = {"logged"}, {"logged"}
    while edge:
        edge = {way.to for way in WAYS if way.origin in edge} - reached
        reached |= edge
    assert reached == set(STATES)


@pytest.mark.parametrize(
    ("state", "purpose", "outcomes"),
    [
        ("logged", "customer", ["no-fault", "unsafe"]),
        ("estimated", "customer", ["no-fault", "declined", "unsafe"]),
        ("estimated", "own", ["no-fault", "unsafe"]),
        ("in-work", "customer", ["repaired", "no-fault", "declined", "unsafe"]),
        ("in-work", "warranty", ["repaired", "no-fault", "unsafe"]),
        ("closed", "customer", []),
    ],
)
def test_a_state_offers_its_outcomes(state, purpose, outcomes):
    assert outcomes_of(state, purpose) == outcomes
