import pytest

from shop.lots.domain.haul import NOTHING, HaulTable, Load, Site, haul_of

TABLE = HaulTable(
    truck_mass=1000.0,
    truck_floor=10.0,
    truck_fixed=100.0,
    truck_per_km=1.0,
    speed=50.0,
    person_rate=30.0,
    piece_minutes=6.0,
    minutes_per_100kg=4.0,
    step_minutes=0.5,
    crew=((60.0, 1), (150.0, 2), (1e9, 3)),
)


def test_what_fetching_costs():
    """By hand: 3 pieces of 100 kg, 25 km, 10 steps. Each takes 2 (6 + 4) + 5 = 25 minutes, 75
    in all; the drive 50 km, one hour. Two people: 4.5 hours. 100 + 50 + 135."""
    haul = haul_of([Load(100.0, 2.0)] * 3, Site(25.0, 10), TABLE)
    assert (haul.trips, haul.crew) == (1, 2)
    assert haul.hours == pytest.approx(4.5)
    assert haul.cost == pytest.approx(285)


@pytest.mark.parametrize(
    ("pieces", "load", "trips"),
    [(10, Load(100, 0.5), 1), (11, Load(100, 0.5), 2), (5, Load(10, 2), 1), (6, Load(10, 2), 2)],
)
def test_mass_or_floor_fills_a_truck(pieces, load, trips):
    assert haul_of([load] * pieces, Site(10.0, 0), TABLE).trips == trips


@pytest.mark.parametrize(("mass", "crew"), [(60, 1), (61, 2), (150, 2), (400, 3)])
def test_the_heaviest_piece_says_how_many_people(mass, crew):
    assert haul_of([Load(20, 1), Load(mass, 1)], Site(10.0, 0), TABLE).crew == crew


def test_nothing_to_fetch_costs_nothing():
    assert haul_of([], Site(90.0, 3), TABLE) == NOTHING


def test_a_piece_that_no_truck_takes_is_refused():
    with pytest.raises(ValueError, match="truck"):
        haul_of([Load(1200.0, 1.0)], Site(1.0, 0), TABLE)
