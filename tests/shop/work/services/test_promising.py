import uuid
from datetime import date, timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from shop.work.models import Assignment, Promise, WorkOrder
from shop.work.selectors.workload import hours_on, workload
from shop.work.services import add_time
from shop.work.services.errors import JobError
from shop.work.services.promising import assign_job, promise_day, set_bench_hours
from tests.factories.units import TODAY, PersonFactory
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
    assert "Kim Hale: 37 h 30 min a week; 3 h of given jobs are to be done." in page


def test_whoever_starts_a_job_that_was_given_to_nobody_has_it(technician, owner):
    job = a_job()
    in_work(job, technician)
    assert job.technician == technician
    given = Assignment.objects.get()
    assert (given.job, given.technician, given.made_by) == (job, technician, technician)
    ours = a_job()
    in_work(ours, owner)  # he sits at no bench: it stays with whoever is free
    assert ours.technician is None


def test_a_given_job_stays_with_whom_it_was_given_to(technician, owner):
    other = PersonFactory(seats=["technician"])
    job = assign_job(job=a_job(), technician=other, by=owner, at=later(0))
    in_work(job, technician)
    assert job.technician == other
    assert Assignment.objects.count() == 1


def test_each_technicians_week_has_his_own_jobs(technician, owner, django_assert_max_num_queries):
    """An hour each: two are Kim's, one is nobody's and goes where it is done first."""
    other = PersonFactory(first_name="Lou", last_name="Park", seats=["technician"])
    jobs = [a_job() for _job in range(3)]
    for job in jobs:
        in_work(job, owner)
    for job in jobs[:2]:
        assign_job(job=job, technician=technician, by=owner, at=later(1))
    for person, minutes in ((technician, 300), (other, 600)):
        set_bench_hours(technician=person, minutes_a_week=minutes, from_on=TODAY)
    with django_assert_max_num_queries(8):
        found = workload(TODAY)
    weeks = {
        one.technician: (one.minutes, one.weeks[0].own, one.weeks[0].lent) for one in found.people
    }
    assert weeks == {technician: (120, 120, 0), other: (0, 0, 60)}
    assert [(week.capacity, week.own, week.lent) for week in found.weeks[:2]] == [
        (900, 120, 60),
        (900, 0, 0),
    ]
    by = {job: one.by for job, one in found.queue}
    assert by == {jobs[0]: technician.pk, jobs[1]: technician.pk, jobs[2]: other.pk}


def test_a_job_is_given_to_whoever_sits_at_the_bench_and_while_it_lasts(technician, clerk, owner):
    with pytest.raises(JobError, match="Sam Lind does not sit at the bench"):
        assign_job(job=a_job(), technician=clerk, by=owner, at=later(0))
    with pytest.raises(JobError):
        assign_job(job=a_job(state="closed"), technician=technician, by=owner, at=later(0))
    job = assign_job(job=a_job(), technician=technician, by=owner, at=later(0))
    assign_job(job=job, technician=technician, by=owner, at=later(1))
    assert assign_job(job=job, technician=None, by=owner, at=later(2)).technician is None
    assert [one.technician for one in job.assignments.all()] == [technician, None]


def test_the_owner_gives_a_job_on_its_page(client, technician, clerk, owner):
    job = a_job()
    address = reverse("job-assign", args=[job.number])
    client.force_login(clerk)
    assert client.post(address, {"technician": technician.pk}).status_code == 403
    client.force_login(owner)
    assert "nobody: whoever is free first" in client.get(address).content.decode()
    assert client.post(address, {"technician": clerk.pk}).status_code == 422
    client.post(address, {"technician": technician.pk})
    job.refresh_from_db()
    assert job.technician == technician
    assert "Kim Hale" in client.get(reverse("job", args=[job.number])).content.decode()


def test_a_finished_machine_that_was_not_collected_is_not_late(technician, clerk):
    job = a_job()
    promised(job, clerk, 0)
    assert workload(TODAY + timedelta(1)).late == [job]
    WorkOrder.objects.filter(pk=job.pk).update(state="closed")
    assert workload(TODAY + timedelta(1)).late == []


def test_a_day_is_promised_from_the_job(client, clerk):
    job = a_job()
    client.force_login(clerk)
    address = reverse("promise", args=[job.number])
    assert client.post(address, {"promised_on": "2020-01-01"}).status_code == 422
    day = timezone.localdate() + timedelta(3)
    client.post(address, {"promised_on": day.isoformat()})
    job.refresh_from_db()
    assert job.promised_on == day
