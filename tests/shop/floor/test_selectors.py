from decimal import Decimal

import pytest

from shop.floor.selectors import costs_so_far, open_stays, stays_here
from shop.floor.services import add_cost, end_stay
from tests.factories.shop import StayFactory
from tests.factories.units import MORNING, TODAY, PersonFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def person():
    return PersonFactory()


@pytest.fixture
def cost(person):
    def add(stay, amount, key):
        add_cost(
            stay=stay,
            sort="parts",
            amount=Decimal(amount),
            on=TODAY,
            document="J00001",
            key=key,
            by=person,
            at=MORNING,
        )

    return add


def test_costs_of_many_machines_are_summed_in_one_query(cost, django_assert_num_queries):
    dear, cheap, free = (StayFactory(owner=None, came="purchase") for _ in range(3))
    cost(dear, "200.00", "a")
    cost(dear, "40.55", "b")
    cost(dear, "-0.55", "c")
    cost(cheap, "10.00", "d")
    with django_assert_num_queries(1):
        sums = costs_so_far([dear, cheap, free])
    assert sums == {dear.pk: Decimal("240.00"), cheap.pk: Decimal("10.00"), free.pk: Decimal(0)}


def test_the_costs_of_no_machine_are_nothing():
    assert costs_so_far([]) == {}


def test_only_machines_that_have_not_left_are_here(person):
    here, gone = StayFactory(), StayFactory()
    end_stay(stay=gone, left="returned", on=TODAY, document="J00001", by=person)
    assert list(stays_here()) == [here]
    assert open_stays([here.unit, gone.unit]) == {here.unit_id: here}


def test_machines_here_are_named_in_one_query(django_assert_num_queries):
    StayFactory.create_batch(3)
    with django_assert_num_queries(1):
        for stay in stays_here():
            assert str(stay.unit)
            assert stay.owner.name
