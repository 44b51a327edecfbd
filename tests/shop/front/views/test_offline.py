"""What a device keeps: the worker's script, the page that stands in, and the list for today."""

import pytest
from django.contrib.staticfiles import finders
from django.urls import reverse

from shop.front.selectors.today import MOST_JOBS, pages_of_today
from shop.front.views.offline import FILES
from tests.factories.units import (
    MORNING,
    InspectionFactory,
    PersonFactory,
    ProtocolStepFactory,
    StoredFileFactory,
)
from tests.shop.front.ground import customers_job
from units.binder.models import ModelFile

pytestmark = pytest.mark.django_db


def test_the_worker_may_serve_the_whole_shop_and_is_asked_for_anew(client):
    answer = client.get(reverse("service-worker"))
    assert answer["Content-Type"] == "text/javascript"
    assert (answer["Service-Worker-Allowed"], answer["Cache-Control"]) == ("/", "no-cache")
    script = answer.content.decode()
    assert f'"{reverse("sign-in")}"' in script
    assert f'"{reverse("sign-out")}"' in script


def test_a_worker_is_allowed_from_the_shop_itself_alone(client):
    policy = client.get(reverse("offline"))["Content-Security-Policy"]
    assert "worker-src 'self'" in policy
    assert "unsafe" not in policy


@pytest.mark.parametrize("file", FILES)
def test_what_a_kept_page_needs_is_there(file):
    assert finders.find(file)


def test_the_page_that_stands_in_names_nobody(client):
    client.force_login(PersonFactory(seats=["technician"], first_name="Wenna"))
    page = client.get(reverse("offline")).content.decode()
    assert "not kept on this device" in page
    assert "Wenna" not in page


def test_the_list_for_today_is_the_technician_s(client):
    client.force_login(PersonFactory(seats=["accountant"]))
    assert client.get(reverse("offline-today")).status_code == 403
    client.force_login(PersonFactory(seats=["technician"]))
    assert client.get(reverse("offline-today")).json() == {"pages": [], "parts": []}


def test_open_inspections_come_first_then_jobs_models_and_machines(django_assert_max_num_queries):
    job = customers_job()
    inspection = InspectionFactory(unit=job.unit, document=job.number)
    for position in (1, 2):
        ProtocolStepFactory(protocol=inspection.protocol, position=position, key=f"s{position}")
    inspection.asked = ["s2"]
    inspection.save()
    unit, words = job.unit, {"shows": "manual", "title": "service manual", "added_at": MORNING}
    paper = ModelFile.objects.create(
        model=unit.model, file=StoredFileFactory(), added_by=job.opened_by, **words
    )
    assert pages_of_today()["pages"] == [
        reverse("inspection-step", args=[inspection.pk, 2]),
        reverse("job", args=[job.number]),
        reverse("model", args=[unit.model_id]),
        reverse("machine", args=[unit.pk]),
        reverse("file", args=[paper.file_id]),
    ]
    model = reverse("model", args=[unit.model_id])
    assert pages_of_today()["parts"] == [f"{model}?part=past", f"{model}?part=parts"]
    with django_assert_max_num_queries(11):
        pages_of_today()


def test_a_day_of_many_jobs_keeps_the_longest_waiting_and_asks_no_more(
    django_assert_max_num_queries,
):
    jobs = [customers_job(serial=f"CV{day}", days=day) for day in range(1, MOST_JOBS + 6)]
    with django_assert_max_num_queries(11):
        pages = pages_of_today()["pages"]
    assert reverse("job", args=[jobs[-1].number]) in pages
    assert reverse("job", args=[jobs[0].number]) not in pages
