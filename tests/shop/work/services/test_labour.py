import uuid
from datetime import timedelta
from decimal import Decimal

import pytest

from parts.days.models import Calendar
from parts.days.services import DayClosedError
from shop.floor.models import MachineCost
from shop.work.models import TimeEntry, WorkOrder
from shop.work.services import add_time, start_work
from shop.work.services.agreed import beyond_the_yes
from shop.work.services.bench import Bench
from shop.work.services.errors import JobError
from tests.factories.units import TODAY
from tests.shop.work.bench import a_job, an_own_job, in_work, later

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("rules")]


def timed(job, by, minutes=45, **other):
    words = {"worked_on": TODAY, "key": uuid.uuid4(), "at": later(60)} | other
    return add_time(job=job, minutes=minutes, by=by, **words)


def test_time_is_kept_with_its_cost(technician):
    entry = timed(a_job(state="in-work"), technician, note="belt fitted")
    assert (entry.technician, entry.cost, entry.note) == (
        technician,
        Decimal("22.50"),
        "belt fitted",
    )


def test_finding_the_cause_counts_before_there_is_a_yes(technician):
    assert timed(a_job(), technician).minutes == 45


def test_a_double_press_writes_time_once(technician):
    job, key = a_job(state="in-work"), uuid.uuid4()
    assert timed(job, technician, key=key) == timed(job, technician, key=key)
    assert TimeEntry.objects.count() == 1


@pytest.mark.parametrize(
    ("minutes", "worked_on", "words"),
    [
        (0, TODAY, "between 1 minute"),
        (1441, TODAY, "between 1 minute"),
        (10, TODAY + timedelta(days=1), "still to come"),
        (10, TODAY - timedelta(days=1), "opened on 5 Oct 2026"),
    ],
)
def test_unlikely_time_is_refused(technician, minutes, worked_on, words):
    with pytest.raises(JobError, match=words):
        timed(a_job(state="in-work"), technician, minutes, worked_on=worked_on)
    assert not TimeEntry.objects.exists()


@pytest.mark.parametrize("state", ["closed", "handed-back", "cancelled"])
def test_no_time_is_written_on_a_job_that_is_over(technician, state):
    with pytest.raises(JobError, match="Nothing was changed"):
        timed(a_job(state=state), technician)


def test_no_time_is_written_into_a_closed_day(technician):
    Calendar.objects.update(closed_through=TODAY)
    with pytest.raises(DayClosedError):
        timed(a_job(state="in-work"), technician)


def test_time_adds_nothing_to_labour_that_was_agreed_at_a_sum(technician):
    job = a_job()
    in_work(job, technician)
    assert timed(job, technician, 600).minutes == 600


def test_time_is_written_as_it_was_worked_even_beyond_the_yes(technician):
    job = a_job()
    in_work(job, technician)
    agreed_without_labour(job)
    timed(job, technician, 75)  # 120 for the belt to come, 100 for the time: 200 and 10 %
    assert beyond_the_yes(Bench(job), TODAY) is None
    timed(job, technician, 1)
    assert beyond_the_yes(Bench(job), TODAY).sum == Decimal("221.33")


def agreed_without_labour(job):
    """As if the labour line had been dropped before the yes to 200."""
    estimate = job.estimates.get()
    estimate.offered_at = estimate.offered_by = None
    estimate.save()
    estimate.lines.filter(line_class="labour").delete()


def test_time_on_our_own_machine_goes_into_it_at_cost(owner):
    job = an_own_job()
    in_work(job, owner)
    key = uuid.uuid4()
    timed(job, owner, 30, key=key)
    timed(job, owner, 30, key=key)
    assert list(MachineCost.objects.values_list("sort", "amount", "document")) == [
        ("labour", Decimal("15.00"), job.number)
    ]


def test_time_on_a_customer_s_machine_is_no_cost_of_ours(technician):
    job = a_job()
    in_work(job, technician)
    timed(job, technician)
    assert not MachineCost.objects.exists()


def test_work_starts_once(technician, clerk):
    job = a_job(state="approved")
    start_work(job=job, by=technician, at=later(1))
    with pytest.raises(JobError, match="is in work: Kim Hale, 5 Oct 2026, 09:01"):
        start_work(job=job, by=clerk, at=later(2))
    assert job.steps.count() == 1


def test_work_does_not_start_without_a_yes(technician):
    with pytest.raises(JobError):
        start_work(job=a_job(), by=technician, at=later(1))
    assert WorkOrder.objects.get().state == "logged"
