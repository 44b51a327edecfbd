"""Opening the inspections of a job from its page."""

import pytest
from django.urls import reverse

from tests.factories.units import ComponentFactory, ProtocolFactory, ProtocolStepFactory
from tests.shop.work.bench import a_job, looked_at
from units.inspections.models import Inspection

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("rules")]


@pytest.fixture
def bench(client, technician):
    client.force_login(technician)
    return client


@pytest.fixture
def job():
    return a_job()


def page_of(bench, job):
    return bench.get(reverse("job", args=[job.number]))


def opened(bench, job, occasion):
    return bench.post(
        reverse("job-inspect", args=[job.number]), {"occasion": occasion}, follow=True
    )


@pytest.mark.parametrize("occasion", ["repair", "after-move", "purchase", "club"])
def test_the_machine_may_be_looked_at_on_every_occasion(bench, job, occasion):
    for slug in ("running-belt", "deck", "drive-belt", "motor-brushes"):
        ComponentFactory(slug=slug)
    ProtocolStepFactory(protocol=ProtocolFactory(kind=job.unit.model.kind, occasion=occasion))
    assert f'name="occasion" value="{occasion}"' in page_of(bench, job).content.decode()
    opened(bench, job, occasion)
    inspection = Inspection.objects.get()
    assert inspection.protocol.occasion == occasion
    assert reverse("inspection", args=[inspection.pk]) in page_of(bench, job).content.decode()


def test_an_occasion_that_nobody_knows_is_refused_with_a_sentence(bench, job):
    answer = opened(bench, job, "sunday").content.decode()
    assert "There is no such occasion for an inspection." in answer
    assert not Inspection.objects.exists()


def test_a_look_before_repair_does_not_stand_for_the_one_on_arrival(bench, job, technician):
    looked_at(job, technician, occasion="repair")
    assert 'name="occasion" value="arrival"' in page_of(bench, job).content.decode()


def test_a_job_that_is_over_offers_none(bench, job):
    type(job).objects.filter(pk=job.pk).update(state="cancelled")
    assert page_of(bench, job).context["page"].occasions == []
