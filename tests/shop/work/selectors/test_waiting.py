"""What each job waits for, in sentences that are true of it."""

import pytest

from shop.work.domain.waiting import Waits
from shop.work.selectors.jobs import job_page
from shop.work.selectors.waiting import DEEDS, waiting_jobs
from shop.work.services.closing import close_job
from shop.work.services.closing_facts import Ending
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
