"""Where a job's final test gets its scope from."""

import pytest

from shop.people.models import Customer, Place
from shop.work.services.bench import Bench
from shop.work.services.inspecting import place_of, work_of
from tests.factories.shop import CustomerFactory, StayFactory
from tests.factories.units import UnitFactory
from tests.shop.work.bench import a_job, an_own_job, in_work, looked_at
from tests.shop.work.services.test_closing import taken

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("rules")]


@pytest.mark.parametrize(("sort", "place"), [("person", "home"), ("company", "club")])
def test_a_machine_that_stayed_at_its_owners_is_tested_there(sort, place):
    customer = CustomerFactory(sort=Customer.Sort(sort))
    where = Place.objects.create(customer=customer, name="the basement")
    assert place_of(a_job(owner=customer, place=where, stay=None, unit=UnitFactory())) == place


def test_a_machine_that_is_with_us_is_tested_at_the_bench():
    customer = CustomerFactory()
    where = Place.objects.create(customer=customer, name="the basement")
    assert place_of(a_job(owner=customer, place=where, stay=StayFactory(owner=customer))) == "bench"


def test_a_final_test_is_bounded_by_the_components_worked_on(technician):
    job = a_job()
    taken(job, in_work(job, technician), technician)
    assert (work_of(Bench(job)).components, work_of(Bench(job)).full) == ({"running-belt"}, False)
    assert looked_at(job, technician, occasion="final").asked == ["running-belt"]


def test_our_own_machine_is_tested_whole():
    assert work_of(Bench(an_own_job())).full


def test_an_inspection_on_arrival_has_no_bounds(technician):
    assert looked_at(a_job(), technician).asked is None
