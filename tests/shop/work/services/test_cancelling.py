"""A job ends without an outcome: nobody is charged, and nothing unsafe slips out of the house."""

import uuid

import pytest

from shop.floor.models import Stay
from shop.work.models import CameAlong, RecallTold, WorkOrder
from shop.work.services import cancel_job, put_back_part
from shop.work.services.clocks import start_clock, stop_clock
from shop.work.services.errors import JobError
from tests.factories.units import RecallCheckFactory
from tests.shop.work.bench import a_job, an_own_job, in_work, later, looked_at
from tests.shop.work.services.test_closing import taken

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("rules")]


@pytest.fixture
def job(technician):
    return a_job()


def test_a_cancelled_job_s_machine_goes_home(job, clerk):
    CameAlong.objects.create(job=job, thing="cord")
    job = cancel_job(job=job, reason="logged twice", left=True, by=clerk, at=later(5))
    assert (job.state, job.steps.last().note) == ("cancelled", "logged twice")
    assert Stay.objects.get().left == "returned"
    assert CameAlong.objects.get().returned


def test_a_cancelled_job_s_machine_may_stay_for_another(job, clerk):
    cancel_job(job=job, reason="logged twice", left=False, by=clerk, at=later(5))
    assert Stay.objects.get().left == ""


def test_cancelling_needs_a_reason(job, clerk):
    with pytest.raises(JobError, match="Say why"):
        cancel_job(job=job, reason="  ", left=True, by=clerk, at=later(5))
    assert WorkOrder.objects.get().state == "logged"


def test_parts_go_back_before_a_job_is_cancelled(job, technician, clerk):
    use = taken(job, in_work(job, technician), technician)
    with pytest.raises(JobError, match="Put them back first"):
        cancel_job(job=job, reason="x", left=True, by=clerk, at=later(20))
    put_back_part(use=use, by=technician, at=later(21))
    assert cancel_job(job=job, reason="x", left=True, by=clerk, at=later(22)).state == "cancelled"


def test_cancelling_our_own_job_leaves_the_machine_with_us(owner):
    job = an_own_job()
    cancel_job(job=job, reason="sold as it is", left=True, by=owner, at=later(5))
    assert Stay.objects.get().left == ""


def test_the_second_to_cancel_hears_of_the_first(job, clerk, owner):
    cancel_job(job=job, reason="x", left=True, by=clerk, at=later(5))
    with pytest.raises(JobError, match="is cancelled: Sam Lind"):
        cancel_job(job=job, reason="y", left=True, by=owner, at=later(6))


def test_nobody_cancels_while_a_clock_runs_that_could_then_write_no_time(job, technician, clerk):
    clock = start_clock(job=job, key=uuid.uuid4(), by=technician, at=later(1))
    with pytest.raises(JobError, match="The clock of Kim Hale runs on this job"):
        cancel_job(job=job, reason="x", left=True, by=clerk, at=later(9))
    stop_clock(clock=clock, by=technician, at=later(10))
    assert cancel_job(job=job, reason="x", left=True, by=clerk, at=later(11)).state == "cancelled"


def test_a_held_machine_never_leaves_by_cancelling(job, technician, clerk):
    """It goes with its written notice, or stays here."""
    looked_at(job, technician, frame="cracked")
    with pytest.raises(JobError, match=r"This holds the machine: frame\. Close the job as unsafe"):
        cancel_job(job=job, reason="x", left=True, by=clerk, at=later(5))
    assert cancel_job(job=job, reason="x", left=False, by=clerk, at=later(6)).state == "cancelled"
    job.stay.refresh_from_db()
    assert job.stay.left_on is None


def test_a_held_machine_that_stands_with_its_owner_is_not_cancelled(technician, clerk):
    job = a_job()
    looked_at(job, technician, frame="cracked")
    WorkOrder.objects.filter(pk=job.pk).update(stay=None)
    with pytest.raises(JobError, match="This holds the machine"):
        cancel_job(job=job, reason="x", left=False, by=clerk, at=later(5))


@pytest.mark.parametrize("left", [True, False])
def test_an_open_recall_is_told_even_if_the_job_is_cancelled(job, clerk, left):
    RecallCheckFactory(unit=job.unit, outcome="fits")
    with pytest.raises(JobError, match="recall on this machine is open"):
        cancel_job(job=job, reason="x", left=left, by=clerk, at=later(5))
    told = {"recalls_told": "phone"}
    cancel_job(job=job, reason="x", left=left, **told, by=clerk, at=later(6))
    told = RecallTold.objects.get()
    assert (told.told_to, told.how, told.told_by) == (str(job.owner), "phone", clerk)


def test_a_recall_on_our_own_machine_has_no_customer_to_be_told(owner):
    job = an_own_job()
    RecallCheckFactory(unit=job.unit, outcome="fits")
    job = cancel_job(job=job, reason="sold as it is", left=False, by=owner, at=later(5))
    assert (job.state, RecallTold.objects.count()) == ("cancelled", 0)
