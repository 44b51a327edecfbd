from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from tests.factories.units import PersonFactory, UnitFactory
from units.recalls.models import RecallCheck

pytestmark = pytest.mark.django_db


@pytest.fixture
def bench(client):
    client.force_login(PersonFactory(seats=["technician"]))
    return client


@pytest.fixture
def unit():
    return UnitFactory()


def send(client, unit, **changes):
    said = {
        "outcome": "none",
        "source": "the public list",
        "checked_on": timezone.localdate().isoformat(),
        "note": "",
    }
    return client.post(reverse("recall-check-add", args=[unit.pk]), said | changes)


def test_page_names_the_law_and_defers_to_list_and_counsel(
    bench, unit, django_assert_max_num_queries
):
    """REFERENCE section 8: Consumer Product Safety Act s. 19, 15 U.S.C. 2068."""
    with django_assert_max_num_queries(12):
        page = bench.get(reverse("recall-check-add", args=[unit.pk])).content.decode()
    assert "Consumer Product Safety Act, section 19; 15 U.S.C. 2068" in page
    assert "ask counsel" in page


def test_no_outcome_is_chosen_beforehand(bench, unit):
    page = bench.get(reverse("recall-check-add", args=[unit.pk])).content.decode()
    assert "checked>" not in page
    assert page.count('type="radio"') == 3


def test_check_is_recorded_and_leads_to_the_machine(bench, unit):
    assert send(bench, unit)["Location"] == reverse("machine", args=[unit.pk])
    assert unit.recall_checks.get().outcome == "none"


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"outcome": ""}, "outcome"),
        ({"outcome": "maybe"}, "outcome"),
        ({"outcome": "fits"}, "note"),
        ({"source": ""}, "source"),
        ({"checked_on": "soon"}, "checked_on"),
        ({"note": "x" * 401}, "note"),
    ],
)
def test_wrong_check_gets_a_sentence_at_its_field(bench, unit, wrong, field):
    response = send(bench, unit, **wrong)
    assert response.status_code == 422
    assert list(response.context["form"].errors) == [field]
    assert not RecallCheck.objects.exists()


def test_check_of_a_day_to_come_is_refused(bench, unit):
    later = timezone.localdate() + timedelta(days=2)
    response = send(bench, unit, checked_on=later.isoformat())
    assert list(response.context["form"].errors) == ["checked_on"]


def test_accountant_records_no_checks(client, unit):
    client.force_login(PersonFactory(seats=["accountant"]))
    assert send(client, unit).status_code == 403
    assert not RecallCheck.objects.exists()
