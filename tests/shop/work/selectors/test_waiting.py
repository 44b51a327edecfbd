"""What each job waits for, in sentences that are true of it."""

from decimal import Decimal
from uuid import uuid4

import pytest
from django.urls import reverse

from parts.buying.selectors import shortages
from parts.buying.services.ordering import OrderedLine, order_parts
from shop.work.domain.waiting import Waits
from shop.work.selectors.jobs import job_page
from shop.work.selectors.waiting import DEEDS, parts_wanted, waiting_jobs
from shop.work.services.closing import close_job
from shop.work.services.closing_facts import Ending
from tests.factories.parts import SupplierFactory, SupplierPriceFactory
from tests.factories.units import MORNING, TODAY, PersonFactory
from tests.shop.work.bench import a_belt, a_job, an_own_job, estimated, later, looked_at, said

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("rules")]


def test_everything_that_a_job_can_wait_for_has_a_deed():
    assert set(DEEDS) == set(Waits) - {Waits.NOTHING}


def test_a_refused_estimate_is_said_to_be_refused(technician):
    job = a_job()
    a_belt(job)
    looked_at(job, technician, running_belt="glazed")
    said(estimated(job, technician), technician, yes=False)
    (waiting,) = waiting_jobs()
    assert "got a no" in waiting.sentence
    assert job_page(job.number).waiting.sentence == waiting.sentence


def test_a_closed_job_on_our_own_machine_waits_for_nobody(technician):
    job = an_own_job()
    ending = Ending("unsafe", safety_key="here", notice="Cracked frame.")
    close_job(job=job, ending=ending, by=technician, at=later(5))
    assert waiting_jobs() == []
    assert job_page(job.number).waiting is None


def test_what_an_approved_job_lacks_is_wanted_until_it_is_ordered(technician):
    job = a_job()
    belt = a_belt(job, on_hand="0")
    SupplierPriceFactory(part=belt)
    looked_at(job, technician, running_belt="glazed")
    said(estimated(job, technician), technician)
    (wanted,) = parts_wanted()
    assert (wanted.part, wanted.quantity, wanted.key) == (belt, 1, job.number)
    assert [one.part for one in shortages([wanted], TODAY)] == [belt]
    line = OrderedLine(part=belt, quantity=Decimal(1), unit_cost=Decimal(80), demand=job.number)
    order_parts(
        supplier=SupplierFactory(), lines=[line], on=TODAY, key=uuid4(), by=technician, at=MORNING
    )
    assert shortages(parts_wanted(), TODAY) == []


def test_what_lies_on_the_shelf_is_wanted_but_not_short(technician):
    job = a_job()
    a_belt(job)
    looked_at(job, technician, running_belt="glazed")
    said(estimated(job, technician), technician)
    assert len(parts_wanted()) == 1
    assert shortages(parts_wanted(), TODAY) == []


def test_the_page_of_what_to_order_names_the_job_and_the_part(client, technician):
    job = a_job()
    belt = a_belt(job, on_hand="0")
    SupplierPriceFactory(part=belt)
    looked_at(job, technician, running_belt="glazed")
    said(estimated(job, technician), technician)
    client.force_login(PersonFactory(seats=["owner"]))
    page = client.get(reverse("parts-to-order"))
    assert job.number in page.text
    assert belt.number in page.text
    assert "not on order" in client.get(reverse("home"), {"seat": "owner"}).text
