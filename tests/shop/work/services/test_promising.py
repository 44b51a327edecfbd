import uuid
from datetime import date, timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from shop.work.models import Promise
from shop.work.selectors.workload import hours_on, workload
from shop.work.services import add_time
from shop.work.services.errors import JobError
from shop.work.services.promising import promise_day, set_bench_hours
from tests.factories.units import TODAY
from tests.shop.work.bench import a_job, in_work, later

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("rules")]


def promised(job, by, days, why=""):
    day = TODAY + timedelta(days)
    return promise_day(job=job, promised_on=day, why=why, by=by, at=later(5))


def test_a_promise_stands_on_the_job_and_the_earlier_one_stays_written(clerk):
    job = a_job()
    promised(job, clerk, 4)
    with pytest.raises(JobError, match="Say why it becomes later"):
        promised(job, clerk, 9)
    promised(job, clerk, 9, "the belt is back-ordered")
    job.refresh_from_db()
    assert job.promised_on == TODAY + timedelta(9)
    assert Promise.objects.count() == 2


@pytest.mark.parametrize("state", ["closed", "handed-back", "cancelled"])
def test_nothing_is_promised_for_a_job_that_is_over(clerk, state):
    with pytest.raises(JobError):
        promised(a_job(state=state), clerk, 4)


def test_nobody_promises_yesterday(clerk):
    with pytest.raises(JobError, match="still to come"):
        promised(a_job(), clerk, -1)


def test_the_load_is_what_was_agreed_less_what_was_worked(technician, clerk):
    """An hour was agreed for the belt; 20 minutes are written."""
    job = a_job()
    in_work(job, technician)
    add_time(job=job, minutes=20, worked_on=TODAY, key=uuid.uuid4(), by=technician, at=later(30))
    promised(job, clerk, 0)
    a_job()  # not approved: it is no load yet
    set_bench_hours(technician=technician, minutes_a_week=300, from_on=TODAY)
    found = workload(TODAY)
    assert (found.minutes, found.minutes_a_week, found.unset) == (40, 300, [])
    ((queued, one),) = found.queue
    assert (queued, one.ready_on, one.will_be_late) == (job, TODAY, False)
    assert workload(TODAY + timedelta(1)).late == [job]


def test_hours_count_from_their_day(technician):
    set_bench_hours(technician=technician, minutes_a_week=600, from_on=date(2026, 1, 1))
    set_bench_hours(technician=technician, minutes_a_week=300, from_on=TODAY)
    assert [row.minutes_a_week for row in hours_on(TODAY)] == [300]
    assert [row.minutes_a_week for row in hours_on(TODAY - timedelta(1))] == [600]
    assert hours_on(date(2025, 1, 1)) == []


def test_the_owner_sets_hours_and_reads_the_bench(
    client, technician, owner, django_assert_max_num_queries
):
    for _job in range(3):
        in_work(a_job(), technician)
    client.force_login(owner)
    said = {"technician": technician.pk, "hours": "37.5", "from_on": "2026-01-01"}
    client.post(reverse("bench-hours"), said)
    with django_assert_max_num_queries(12):
        page = client.get(reverse("workload")).content.decode()
    assert "3 h are agreed and not done; the bench has 37 h 30 min a week" in page


def test_a_day_is_promised_from_the_job(client, clerk):
    job = a_job()
    client.force_login(clerk)
    address = reverse("promise", args=[job.number])
    assert client.post(address, {"promised_on": "2020-01-01"}).status_code == 422
    day = timezone.localdate() + timedelta(3)
    client.post(address, {"promised_on": day.isoformat()})
    job.refresh_from_db()
    assert job.promised_on == day
