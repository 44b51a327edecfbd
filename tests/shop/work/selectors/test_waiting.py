"""What each job waits for, in sentences that are true of it."""

from datetime import timedelta
from decimal import Decimal
from uuid import uuid4

import pytest
from django.urls import reverse

from parts.buying.selectors import shortages
from parts.buying.services.ordering import OrderedLine, order_parts
from parts.fits.models import Fit
from shop.work.domain.waiting import Waits
from shop.work.models import EstimateLine
from shop.work.selectors.jobs import job_page
from shop.work.selectors.waiting import DEEDS, parts_wanted, waiting_jobs
from shop.work.services import (
    Wanted,
    add_line,
    close_job,
    make_estimate,
    offer_estimate,
    start_work,
    take_part,
)
from shop.work.services.closing_facts import Ending
from tests.factories.parts import FitFactory, SupplierPriceFactory
from tests.factories.units import MORNING, TODAY, PersonFactory
from tests.shop.work.bench import (
    a_belt,
    a_job,
    an_own_job,
    estimated,
    later,
    looked_at,
    said,
    stocked,
)

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
        supplier="Kestrow spares", lines=[line], on=TODAY, key=uuid4(), by=technician, at=MORNING
    )
    assert shortages(parts_wanted(), TODAY) == []


def test_what_lies_on_the_shelf_is_wanted_but_not_short(technician):
    job = a_job()
    a_belt(job)
    looked_at(job, technician, running_belt="glazed")
    said(estimated(job, technician), technician)
    assert len(parts_wanted()) == 1
    assert shortages(parts_wanted(), TODAY) == []


def wanting(technician, quantity=1, belt=None, twice=False, **other):
    """A job in work whose yes is for so many belts, in one line or ``twice``; and the belt, of
    which one is on hand."""
    job = a_job(**other)
    if belt:
        FitFactory(part=belt, model=job.unit.model)
    belt = belt or a_belt(job)
    Fit.objects.filter(part=belt).update(quantity=Decimal(quantity))
    looked_at(job, technician, running_belt="glazed")
    estimate = make_estimate(job=job, by=technician, at=MORNING)
    if twice:
        add_line(estimate=estimate, wanted=Wanted("part", "Spare belt", part=belt), on=TODAY)
    said(offer_estimate(estimate=estimate, by=technician, at=MORNING), technician)
    start_work(job=job, by=technician, at=MORNING)
    return job, belt


def take_one(job, belt, by, line=None):
    said = {"line": line, "key": uuid4(), "by": by, "at": later(9)}
    take_part(job=job, part=belt, quantity=Decimal(1), **said)


def test_one_of_two_taken_leaves_one_to_take(technician):
    job, belt = wanting(technician, quantity=2)
    stocked(belt)
    take_one(job, belt, technician)
    assert [(one.part, one.quantity) for one in parts_wanted()] == [(belt, 1)]
    assert [one.what for one in waiting_jobs()] == [Waits.TAKING]
    assert job_page(job.number).waiting.what == Waits.TAKING


def test_one_of_two_taken_and_none_left_waits_for_the_other(technician):
    job, belt = wanting(technician, quantity=2)
    take_one(job, belt, technician)
    assert [one.quantity for one in shortages(parts_wanted(), TODAY)] == [1]
    assert [one.parts for one in waiting_jobs()] == [(belt.name,)]
    assert job_page(job.number).waiting.parts == (belt.name,)


def test_two_lines_of_one_part_are_not_cleared_by_one_use(technician):
    job, belt = wanting(technician, twice=True)
    take_one(job, belt, technician, line=EstimateLine.objects.filter(part=belt).last())
    assert [one.quantity for one in parts_wanted()] == [1]
    assert job_page(job.number).waiting.what == Waits.PARTS


def test_the_job_that_waits_is_the_one_that_the_order_is_proposed_for(technician):
    _older, belt = wanting(technician, promised_on=TODAY + timedelta(days=30))
    newer, _belt = wanting(technician, belt=belt, opened_at=later(60), promised_on=TODAY)
    assert [one.key for one in shortages(parts_wanted(), TODAY)] == [newer.number]
    assert [one.job for one in waiting_jobs() if one.what == Waits.PARTS] == [newer]


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
    assert "not on order" in client.get(reverse("home"), {"seat": "owner", "part": "parts"}).text
