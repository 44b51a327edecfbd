import pytest
from django.db import IntegrityError, transaction

from shop.work.domain.closing import keys_for
from shop.work.domain.states import ANSWERED, OFFERED
from shop.work.models import Step, WorkOrder
from shop.work.services.errors import JobError
from shop.work.services.steps import as_it_stands, take_step
from tests.factories.shop import WorkOrderFactory
from tests.shop.work.bench import an_own_job, later

pytestmark = pytest.mark.django_db


def test_a_step_changes_the_state_and_says_who_and_when(technician):
    job = take_step(
        job=WorkOrderFactory(),
        deed="offer",
        checked=OFFERED,
        note="by hand",
        by=technician,
        at=later(5),
    )
    assert (job.state, job.state_since) == ("estimated", later(5))
    step = job.steps.get()
    assert (step.from_state, step.to_state, step.note) == ("logged", "estimated", "by hand")
    assert (step.taken_by, step.taken_at) == (technician, later(5))


def test_a_step_that_the_table_does_not_have_changes_nothing(technician):
    job = WorkOrderFactory()
    with pytest.raises(JobError):
        take_step(job=job, deed="hand-back", by=technician, at=later(5))
    assert WorkOrder.objects.get().state == "logged"
    assert not Step.objects.exists()


def test_a_stale_page_hears_who_was_quicker_and_when(technician, clerk):
    job = WorkOrderFactory(state="approved")
    take_step(job=job, deed="start", by=technician, at=later(5))
    with pytest.raises(JobError, match=r"is in work: Kim Hale, 5 Oct 2026, 09:05"):
        take_step(job=job, deed="start", by=clerk, at=later(6))
    assert Step.objects.count() == 1


def test_the_state_is_read_anew_however_old_the_page(technician):
    stale = WorkOrderFactory(state="approved")
    WorkOrder.objects.update(state="cancelled")
    with pytest.raises(JobError):
        take_step(job=stale, deed="start", by=technician, at=later(5))


def test_only_the_owner_approves_work_on_our_own_stock(technician, owner):
    job = an_own_job()
    WorkOrder.objects.update(state="estimated")
    with pytest.raises(JobError, match="owner"):
        take_step(job=job, deed="yes", checked=ANSWERED, by=technician, at=later(5))
    assert (
        take_step(job=job, deed="yes", checked=ANSWERED, by=owner, at=later(6)).state == "approved"
    )


def test_closing_keeps_the_outcome(technician):
    job = WorkOrderFactory(state="in-work")
    closed = take_step(
        job=job,
        deed="close",
        outcome="repaired",
        checked=keys_for("repaired"),
        by=technician,
        at=later(5),
    )
    assert WorkOrder.objects.get().outcome == closed.outcome == "repaired"


def test_a_job_without_steps_still_says_how_it_stands():
    assert "is logged in since" in as_it_stands(WorkOrderFactory())


def test_steps_only_grow(technician):
    job = take_step(
        job=WorkOrderFactory(), deed="offer", checked=OFFERED, by=technician, at=later(5)
    )
    with pytest.raises(IntegrityError), transaction.atomic():
        job.steps.update(note="otherwise")
