import uuid
from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction
from django.urls import reverse

from shop.floor.models import Stay
from shop.work.models import RecallTold
from shop.work.selectors.left_standing import left_standing
from shop.work.services import close_job, hand_back
from shop.work.services.closing_facts import Ending
from shop.work.services.errors import JobError
from shop.work.services.hand_back import Leaving
from shop.work.services.left_standing import give_notice, keep_machine, set_storage_rule
from tests.factories.units import TODAY, RecallCheckFactory
from tests.shop.work.bench import a_job, later
from tests.units.recalls.ground import load, record

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("rules")]
DAY = 24 * 60


@pytest.fixture
def job(technician):
    job = a_job()
    ending = Ending("unsafe", "here", notice="The frame is cracked.")
    close_job(job=job, ending=ending, by=technician, at=later(0))
    job.refresh_from_db()
    return job


@pytest.fixture
def storage(db):
    set_storage_rule(days_free=30, per_day=Decimal(2), from_on=date(2020, 1, 1))


def asked(job, clerk, days=0):
    return give_notice(
        job=job,
        how="mail",
        given_on=TODAY + timedelta(days),
        key=uuid.uuid4(),
        by=clerk,
        at=later(days * DAY),
    )


def gone(job, clerk, days, **other):
    things = [thing.thing for thing in job.came_along.all()]
    leaving = Leaving("Dana Mabry", things, notice_signed=True, **other)
    return hand_back(job=job, leaving=leaving, by=clerk, at=later(days * DAY))


def test_storage_is_charged_as_the_first_notice_told_it(job, clerk, storage):
    asked(job, clerk)
    asked(job, clerk, 20)
    set_storage_rule(days_free=0, per_day=Decimal(99), from_on=TODAY + timedelta(1))
    (stood,) = left_standing(TODAY + timedelta(40))
    assert (len(stood.notices), stood.days, stood.charge) == (2, 10, Decimal(20))
    assert gone(job, clerk, 40).invoice.net == Decimal(20)


def test_storage_is_waived_with_a_reason(job, clerk, storage):
    asked(job, clerk)
    assert gone(job, clerk, 40, storage_waived="was ill").invoice is None
    assert job.steps.last().note == "storage not charged: was ill"


def test_a_machine_is_kept_only_after_its_notice_and_by_the_owner(job, clerk, owner, storage):
    def keep(by, days, reason="county order 12"):
        return keep_machine(job=job, reason=reason, by=by, at=later(days * DAY))

    with pytest.raises(JobError, match="never asked"):
        keep(owner, 1)
    asked(job, clerk, 1)
    with pytest.raises(JobError, match="another seat"):
        keep(clerk, 40)
    with pytest.raises(JobError, match="5 Nov 2026"):
        keep(owner, 20)
    with pytest.raises(JobError, match="Say why"):
        keep(owner, 40, " ")
    assert keep(owner, 40).state == "taken-over"
    assert Stay.objects.here().get(unit=job.unit).owner is None


def test_a_notice_is_given_once_for_a_finished_machine_only(job, clerk):
    key = uuid.uuid4()
    said = {"how": "mail", "given_on": TODAY, "key": key, "by": clerk, "at": later(1)}
    assert give_notice(job=job, **said) == give_notice(job=job, **said)
    with pytest.raises(JobError):
        give_notice(job=a_job(), **said | {"key": uuid.uuid4()})
    with pytest.raises(IntegrityError), transaction.atomic():
        job.collection_notices.update(note="otherwise")


def test_an_open_recall_is_told_before_the_machine_leaves(job, clerk):
    RecallCheckFactory(unit=job.unit, outcome="fits")
    with pytest.raises(JobError, match="has to be told"):
        gone(job, clerk, 1)
    gone(job, clerk, 1, recalls_told=True)
    told = RecallTold.objects.get()
    assert (told.told_to, told.told_by, told.how) == ("Dana Mabry", clerk, "counter")


def test_a_notice_that_may_mean_the_machine_is_told_too(job, clerk):
    load(record(text=f"Model {job.unit.model.number}."))
    with pytest.raises(JobError, match="has to be told"):
        gone(job, clerk, 1)
    gone(job, clerk, 1, recalls_told=True)
    assert RecallTold.objects.count() == 1


def test_the_pages_of_what_is_left_standing(client, job, owner, django_assert_max_num_queries):
    client.force_login(owner)
    client.post(reverse("storage-rule"), {"days_free": 30, "per_day": "2", "from_on": "2020-01-01"})
    said = {"how": "mail", "given_on": TODAY, "key": uuid.uuid4()}
    client.post(reverse("collection-notice", args=[job.number]), said)
    with django_assert_max_num_queries(12):
        page = client.get(reverse("left-standing")).content.decode()
    assert "Asked by letter on 5 Oct 2026" in page
    assert "local law" in page
    with django_assert_max_num_queries(12):
        client.get(reverse("collection-notice", args=[job.number]))
    client.post(reverse("machine-keep", args=[job.number]), {"reason": "county order 12"})
    job.refresh_from_db()
    assert job.state == "taken-over"


def test_a_recalled_machine_is_kept_only_once_its_owner_was_told(job, clerk, owner):
    RecallCheckFactory(unit=job.unit, outcome="fits")
    said = {"how": "mail", "given_on": TODAY, "key": uuid.uuid4()}
    give_notice(job=job, **said, by=clerk, at=later(DAY))
    keep = {"job": job, "reason": "county order 12", "by": owner, "at": later(90 * DAY)}
    with pytest.raises(JobError, match="has to be told"):
        keep_machine(**keep)
    assert keep_machine(recalls_told="mail", **keep).state == "taken-over"
    assert RecallTold.objects.get().how == "mail"
