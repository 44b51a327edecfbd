"""How a final test stands: the list of what waits, the job's page and closing say the same."""

import uuid
from decimal import Decimal

import pytest

from shop.work.domain.closing import FinalTest
from shop.work.domain.waiting import Waits
from shop.work.selectors.inspections import final_test_of, job_inspections
from shop.work.selectors.jobs import job_page
from shop.work.selectors.waiting import waiting_jobs
from shop.work.services import add_time, put_back_part, take_part
from tests.factories.units import TODAY
from tests.shop.work.bench import a_job, in_work, later, looked_at

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("rules")]


@pytest.fixture
def job(technician):
    """In work, with its part taken and its time written."""
    job = a_job()
    belt = in_work(job, technician)
    words = {"job": job, "key": uuid.uuid4(), "by": technician, "at": later(10)}
    take_part(part=belt, quantity=Decimal(1), **words)
    add_time(minutes=60, worked_on=TODAY, **words | {"at": later(60)})
    return job


def final(job, technician, at=70, **found):
    return looked_at(job, technician, later(at), occasion="final", **found)


def stands(job) -> FinalTest:
    return final_test_of(list(job_inspections().filter(job=job)))


def waits(job) -> set[Waits]:
    """What the list and the job's own page say that it waits for."""
    return {one.what for one in waiting_jobs([job])} | {job_page(job.number).waiting.what}


def test_a_job_without_a_final_test_waits_for_one(job):
    assert (stands(job), waits(job)) == (FinalTest.MISSING, {Waits.TEST})


def test_a_passed_test_lets_the_job_be_closed(job, technician):
    final(job, technician)
    assert (stands(job), waits(job)) == (FinalTest.PASSED, {Waits.CLOSING})


def test_a_failed_test_sends_it_back(job, technician):
    final(job, technician, running_belt="glazed")
    assert (stands(job), waits(job)) == (FinalTest.FAILED, {Waits.TEST_FAILED})


def test_a_look_that_was_not_possible_does_not_fail_the_test(job, technician):
    final(job, technician, fan="not-possible")
    assert (stands(job), waits(job)) == (FinalTest.PASSED, {Waits.CLOSING})


def test_a_safety_look_that_was_not_possible_fails_the_test(job, technician):
    final(job, technician, frame="not-possible")
    assert (stands(job), waits(job)) == (FinalTest.FAILED, {Waits.TEST_FAILED})


def test_time_written_after_the_test_asks_for_another(job, technician):
    final(job, technician)
    add_time(job=job, minutes=5, worked_on=TODAY, key=uuid.uuid4(), by=technician, at=later(75))
    assert (stands(job), waits(job)) == (FinalTest.OLDER, {Waits.TEST})


def test_a_part_put_back_after_the_test_asks_for_another(job, technician):
    final(job, technician)
    put_back_part(use=job.part_uses.get(), by=technician, at=later(75))
    assert stands(job) is FinalTest.OLDER


def test_the_newest_test_counts(job, technician):
    final(job, technician, running_belt="glazed")
    final(job, technician, at=80)
    assert stands(job) is FinalTest.PASSED
