import pytest
from django.urls import reverse

from tests.factories.units import PersonFactory

pytestmark = pytest.mark.django_db


def test_a_page_that_needs_a_seat_comes_back_after_sign_in(client):
    response = client.get(reverse("help") + "?a=1")
    assert response.url == reverse("sign-in") + "?next=/help/%3Fa%3D1"


def test_a_form_sent_by_nobody_comes_back_after_sign_in_and_says_that_nothing_was_saved(client):
    response = client.post(reverse("intake"), {"complaint": "Squeaks."}, follow=True)
    address, _status = response.redirect_chain[-1]
    assert address == reverse("sign-in") + "?next=/jobs/log-in/%23again"
    assert "Nothing was saved" in response.content.decode()


def test_an_act_without_a_page_of_its_own_leads_to_the_first_page_after_sign_in(client):
    response = client.post(reverse("work-start", args=["J00001"]))
    assert response.url == reverse("sign-in") + "?next=/"


def test_a_part_of_a_page_asked_for_by_nobody_leaves_what_is_typed_round_it_alone(client):
    response = client.get(reverse("intake-history"), headers={"HX-Request": "true"})
    assert "HX-Redirect" not in response.headers
    page = response.content.decode()
    assert "You were signed out meanwhile." in page
    assert "<html" not in page


def test_another_seats_page_says_whose_it_is(client):
    client.force_login(PersonFactory(seats=["technician"]))
    response = client.get(reverse("period-list"))
    assert response.status_code == 403
    assert "It opens for: owner, accountant." in response.content.decode()


def test_an_act_that_no_seat_has_at_an_address_is_refused_in_a_sentence(client):
    client.force_login(PersonFactory(seats=["owner"]))
    response = client.delete(reverse("help"))
    assert response.status_code == 403
    assert "Nothing can be done at this address that way" in response.content.decode()


def test_a_person_without_a_seat_is_told_so_and_can_leave(client):
    client.force_login(PersonFactory())
    page = client.get(reverse("home"))
    assert page.status_code == 403
    assert "You hold no seat yet" in page.content.decode()
    assert reverse("sign-out") in page.content.decode()


def test_a_person_who_left_the_shop_holds_no_seat(client):
    person = PersonFactory(seats=["owner"])
    client.force_login(person)
    person.is_active = False
    person.save()
    assert client.get(reverse("home")).status_code == 302
