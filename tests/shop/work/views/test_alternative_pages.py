"""Choosing on the pages: an alternative is added, offered and chosen."""

from decimal import Decimal

import pytest
from django.urls import reverse

from shop.work.services import make_estimate, offer_estimate
from shop.work.services.alternatives import add_alternative
from tests.shop.work.bench import a_belt, a_job, looked_at

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("rules")]


@pytest.fixture
def draft(technician):
    job = a_job()
    a_belt(job)
    looked_at(job, technician, running_belt="glazed")
    return make_estimate(job=job, by=technician, at=job.opened_at)


def address(name, draft):
    return reverse(name, args=[draft.job.number, draft.version])


def test_an_alternative_is_added_and_dropped(client, technician, draft):
    client.force_login(technician)
    said = {"name": "We take it", "sort": "donor", "we_pay": "35"}
    client.post(address("alternative-add", draft), said)
    assert b"We pay $35.00" in client.get(address("estimate", draft)).content
    client.post(reverse("alternative-drop", args=[draft.job.number, draft.version, "A"]))
    assert not draft.alternatives.exists()


def test_a_donor_without_a_price_is_asked_for_it(client, technician, draft):
    client.force_login(technician)
    page = client.post(address("alternative-add", draft), {"name": "x", "sort": "donor"})
    assert page.status_code == 422
    assert b"Say what we would pay" in page.content


def test_the_desk_writes_down_what_was_chosen(client, technician, clerk, draft):
    add_alternative(estimate=draft, name="Repair")
    donor = add_alternative(estimate=draft, name="We take it", sort="donor", we_pay=Decimal(35))
    offer_estimate(estimate=draft, by=technician, at=draft.made_at)
    client.force_login(clerk)
    said = {"yes": "yes", "given_by": "Dana Mabry", "channel": "phone"}
    page = client.post(address("estimate-answer", draft), said)
    assert b"Say which of the alternatives" in page.content
    client.post(address("estimate-answer", draft), said | {"alternative": donor.pk})
    draft.job.refresh_from_db()
    assert draft.job.outcome == "bought"


def test_the_pages_of_a_choice_take_few_queries(
    client, technician, draft, django_assert_max_num_queries
):
    for name in ("Repair", "Repair and fan", "Repair and deck"):
        add_alternative(estimate=draft, name=name)
    client.force_login(technician)
    for name in ("estimate", "alternative-add"):
        with django_assert_max_num_queries(12):
            client.get(address(name, draft))


def test_the_estimate_says_whether_it_is_worth_it_with_figures(
    client, technician, draft, django_assert_max_num_queries
):
    add_alternative(estimate=draft, name="Repair")
    add_alternative(estimate=draft, name="We take it", sort="donor", we_pay=Decimal(35))
    client.force_login(technician)
    with django_assert_max_num_queries(12):
        page = client.get(address("estimate-worth", draft)).content.decode()
    assert "Put right, it would fetch about" in page
    assert "this is what the shop believes" in page
    assert "A: Repair: $200.00 before tax" in page
    assert "B: We take it:" not in page
    assert "Whether its parts can be had is not weighed here." in page
