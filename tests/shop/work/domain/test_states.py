import pytest

from shop.work.domain.states import WAYS, deeds_of, outcomes_of, way_to


@pytest.mark.parametrize(
    ("origin", "to", "purpose", "outcome"),
    [
        ("logged", "estimated", "customer", ""),
        ("estimated", "approved", "customer", ""),
        ("approved", "in-work", "own", ""),
        ("in-work", "tested", "customer", ""),
        ("tested", "closed", "customer", "repaired"),
        ("tested", "in-work", "customer", ""),
        ("estimated", "closed", "customer", "declined"),
        ("logged", "closed", "customer", "unsafe"),
        ("closed", "handed-back", "customer", ""),
        ("in-work", "cancelled", "customer", ""),
    ],
)
def test_the_table_has_these_ways(origin, to, purpose, outcome):
    assert way_to(origin, to, purpose, outcome)


@pytest.mark.parametrize(
    ("origin", "to", "purpose", "outcome"),
    [
        ("logged", "in-work", "customer", ""),
        ("logged", "approved", "customer", ""),
        ("in-work", "closed", "customer", "repaired"),
        ("logged", "closed", "customer", "declined"),
        ("estimated", "closed", "own", "declined"),
        ("closed", "handed-back", "own", ""),
        ("closed", "cancelled", "customer", ""),
        ("handed-back", "closed", "customer", "repaired"),
        ("cancelled", "logged", "customer", ""),
        ("closed", "closed", "customer", "repaired"),
    ],
)
def test_the_table_has_no_such_way(origin, to, purpose, outcome):
    assert way_to(origin, to, purpose, outcome) is None


def test_our_own_stock_is_approved_by_the_owner_alone():
    assert way_to("estimated", "approved", "own").seats == {"owner"}


def test_a_customer_s_yes_needs_no_seat_of_its_own():
    assert not way_to("estimated", "approved", "customer").seats


def test_nothing_leads_out_of_the_ends():
    for purpose in ("customer", "own"):
        assert not deeds_of("handed-back", purpose)
        assert not deeds_of("cancelled", purpose)
    assert not deeds_of("closed", "own")


def test_every_state_can_be_reached_from_the_counter():
    reached, edge = {"logged"}, {"logged"}
    while edge:
        edge = {way.to for way in WAYS if way.origin in edge} - reached
        reached |= edge
    assert reached == {way.origin for way in WAYS} | {"handed-back", "cancelled"}


@pytest.mark.parametrize(
    ("state", "purpose", "outcomes"),
    [
        ("logged", "customer", ["no-fault", "unsafe"]),
        ("estimated", "customer", ["no-fault", "declined", "unsafe"]),
        ("estimated", "own", ["no-fault", "unsafe"]),
        ("in-work", "customer", ["repaired", "no-fault", "declined", "unsafe"]),
        ("tested", "own", ["repaired", "no-fault", "unsafe"]),
        ("closed", "customer", []),
    ],
)
def test_a_state_offers_its_outcomes(state, purpose, outcomes):
    assert outcomes_of(state, purpose) == outcomes
