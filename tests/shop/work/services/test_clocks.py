import uuid
from datetime import timedelta

import pytest
from django.db import IntegrityError, transaction
from django.urls import reverse

from shop.work.domain.clock import worked_minutes
from shop.work.models import Clock, TimeEntry
from shop.work.services import close_job
from shop.work.services.clocks import start_clock, stop_clock
from shop.work.services.closing_facts import Ending
from shop.work.services.errors import ForgottenClockError, JobError, UndoneError
from tests.factories.units import MORNING, PersonFactory
from tests.shop.work.bench import a_job, in_work, later

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("rules")]


@pytest.fixture
def job(technician):
    job = a_job()
    in_work(job, technician)
    return job


@pytest.fixture
def clock(job, technician):
    return started(job, technician)


def started(job, by, at=MORNING, key=None):
    return start_clock(job=job, key=key or uuid.uuid4(), by=by, at=at)


@pytest.mark.parametrize(("seconds", "minutes"), [(0, 1), (29, 1), (90, 2), (89, 1), (3600, 60)])
def test_a_clock_comes_to_the_nearest_minute(seconds, minutes):
    assert worked_minutes(MORNING, MORNING + timedelta(seconds=seconds)) == minutes


def test_a_stopped_clock_writes_its_time(clock, technician):
    stop_clock(clock=clock, note="belt", by=technician, at=later(42))
    entry = TimeEntry.objects.get()
    assert (entry.minutes, entry.technician, entry.note) == (42, technician, "belt")


def test_nobody_has_two_clocks_running(clock, job, technician):
    with pytest.raises(JobError, match=job.number):
        started(job, technician, later(5))
    with pytest.raises(IntegrityError), transaction.atomic():
        Clock.objects.create(job=job, key=uuid.uuid4(), technician=technician, started_at=MORNING)


def test_two_technicians_may_time_one_job(clock, job):
    other = PersonFactory(seats=["technician"])
    assert started(job, other).technician == other


def test_the_same_press_twice_is_one_clock(clock, job, technician):
    assert started(job, technician, later(1), key=clock.key) == clock


def test_a_second_press_hears_when_it_was_stopped(clock, technician):
    stop_clock(clock=clock, by=technician, at=later(42))
    with pytest.raises(JobError, match=r"09:42 and wrote 42 min"):
        stop_clock(clock=clock, by=technician, at=later(43))
    assert TimeEntry.objects.count() == 1


def test_a_forgotten_clock_asks_how_long_it_was(clock, technician):
    with pytest.raises(ForgottenClockError, match="how many minutes"):
        stop_clock(clock=clock, by=technician, at=later(12 * 60 + 1))
    assert stop_clock(clock=clock, minutes=50, by=technician, at=later(800)).entry.minutes == 50


def test_nobody_works_longer_than_his_clock_ran(clock, technician):
    with pytest.raises(JobError, match="cannot have been that long"):
        stop_clock(clock=clock, minutes=31, by=technician, at=later(30))


def test_a_clock_that_was_never_needed_writes_nothing(clock, technician):
    assert stop_clock(clock=clock, minutes=0, by=technician, at=later(30)).entry is None
    assert not TimeEntry.objects.exists()


def test_only_he_and_the_owner_stop_a_clock(clock, owner):
    other = PersonFactory(seats=["technician"])
    with pytest.raises(JobError, match="Kim Hale"):
        stop_clock(clock=clock, by=other, at=later(5))
    assert stop_clock(clock=clock, by=owner, at=later(5)).entry.technician != owner


def test_a_job_is_not_closed_under_a_running_clock(clock, job, technician):
    with pytest.raises(UndoneError, match="A clock still runs on this job: Kim Hale"):
        close_job(job=job, ending=Ending("unsafe", "here", notice="x"), by=technician, at=later(9))


def test_the_clock_shows_on_the_pages_of_every_job_and_is_stopped_there(client, clock, technician):
    other = a_job()
    client.force_login(technician)
    page = client.get(reverse("job", args=[other.number])).content.decode()
    assert f"Your clock runs on job {clock.job.number}" in page
    page = client.post(reverse("clock-stop", args=[clock.pk]), {"minutes": ""}, follow=True)
    assert page.status_code == 422  # the test's morning is long ago: it was forgotten
    assert b"how many minutes" in page.content
    client.post(reverse("clock-stop", args=[clock.pk]), {"minutes": "20"})
    assert TimeEntry.objects.get().minutes == 20


def test_a_clock_is_started_from_the_job_once(client, job, technician):
    client.force_login(technician)
    for _press in range(2):
        client.post(reverse("clock-start", args=[job.number]))
    assert Clock.objects.count() == 1
