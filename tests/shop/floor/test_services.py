from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction

from parts.days.models import Calendar
from parts.days.services import DayClosedError
from shop.floor.models import MachineCost, Stay
from shop.floor.services import FloorError, add_cost, begin_stay, end_stay
from tests.factories.shop import CustomerFactory, StayFactory
from tests.factories.units import MORNING, TODAY, PersonFactory, UnitFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def person():
    return PersonFactory()


@pytest.fixture
def ours():
    return StayFactory(owner=None, came="purchase")


@pytest.fixture
def spend(person):
    def add(stay, amount="40.00", key="one", on=TODAY):
        return add_cost(
            stay=stay,
            sort="parts",
            amount=Decimal(amount),
            on=on,
            document="J00001",
            key=key,
            by=person,
            at=MORNING,
        )

    return add


def test_a_machine_comes_for_repair(person):
    unit, owner = UnitFactory(), CustomerFactory()
    stay = begin_stay(unit=unit, owner=owner, came="repair", on=TODAY, by=person)
    assert (stay.owner, stay.came_on, stay.came_by) == (owner, TODAY, person)


def test_a_machine_that_is_here_cannot_come_again(person):
    here = StayFactory()
    with pytest.raises(FloorError, match="has been here since 5 Oct 2026"):
        begin_stay(unit=here.unit, owner=here.owner, came="repair", on=TODAY, by=person)
    assert Stay.objects.count() == 1


def test_a_machine_comes_back_after_it_left(person):
    first = StayFactory()
    end_stay(stay=first, left="returned", on=TODAY, document="J00001", by=person)
    begin_stay(unit=first.unit, owner=first.owner, came="repair", on=TODAY, by=person)
    assert Stay.objects.here().count() == 1


def test_a_bought_machine_has_no_other_owner(person):
    with pytest.raises(FloorError, match="our own"):
        begin_stay(
            unit=UnitFactory(), owner=CustomerFactory(), came="purchase", on=TODAY, by=person
        )


def test_a_closed_day_takes_no_machine_in(person):
    Calendar.objects.update(closed_through=TODAY)
    with pytest.raises(DayClosedError):
        begin_stay(unit=UnitFactory(), owner=None, came="purchase", on=TODAY, by=person)


def test_a_machine_leaves_under_a_document(person):
    stay = end_stay(stay=StayFactory(), left="returned", on=TODAY, document="J00001", by=person)
    stay.refresh_from_db()
    assert (stay.left, stay.left_on, stay.left_document, stay.left_by) == (
        "returned",
        TODAY,
        "J00001",
        person,
    )


def test_the_second_to_hand_it_back_is_told_when_and_by_whom(person):
    stay = StayFactory()
    end_stay(stay=stay, left="returned", on=TODAY, document="J00001", by=person)
    with pytest.raises(
        FloorError, match=f"5 Oct 2026 under J00001, written by Robin {person.last_name}"
    ):
        end_stay(stay=stay, left="returned", on=TODAY, document="J00002", by=PersonFactory())


def test_a_customers_machine_is_not_sold(person):
    with pytest.raises(FloorError, match="not sold"):
        end_stay(stay=StayFactory(), left="sold", on=TODAY, document="R00001", by=person)


def test_our_own_machine_is_handed_back_to_nobody(person, ours):
    with pytest.raises(FloorError, match="nobody"):
        end_stay(stay=ours, left="returned", on=TODAY, document="J00001", by=person)


def test_a_machine_does_not_leave_before_it_came(person):
    with pytest.raises(FloorError, match="cannot leave before"):
        end_stay(
            stay=StayFactory(),
            left="returned",
            on=TODAY - timedelta(days=1),
            document="J00001",
            by=person,
        )


def test_a_cost_is_written_once_for_its_key(ours, spend):
    assert spend(ours) == spend(ours, amount="99")
    assert MachineCost.objects.get().amount == Decimal("40.00")


def test_a_customers_machine_costs_us_nothing(spend):
    with pytest.raises(FloorError, match="invoice"):
        spend(StayFactory())


def test_a_machine_that_was_sold_takes_no_more_cost(person, ours, spend):
    end_stay(stay=ours, left="sold", on=TODAY, document="R00001", by=person)
    with pytest.raises(FloorError, match="R00001"):
        spend(ours)


def test_a_closed_day_takes_no_cost(ours, spend):
    Calendar.objects.update(closed_through=TODAY)
    with pytest.raises(DayClosedError):
        spend(ours)
    assert spend(ours, on=TODAY + timedelta(days=1)).spent_on > TODAY


def test_a_cost_cannot_be_changed_even_past_the_service(ours, spend):
    spend(ours)
    with pytest.raises(IntegrityError, match="only grows"), transaction.atomic():
        MachineCost.objects.update(amount=Decimal("1"))
