"""Error pages are sentences, and nothing of the program's inside."""

import pytest
from django.test import Client
from django.urls import reverse

from tests.factories.units import PersonFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner(client):
    client.force_login(PersonFactory(seats=["owner"]))
    return client


def test_an_address_with_nothing_keeps_the_rooms_at_hand(owner):
    response = owner.get("/no/such/room/")
    assert response.status_code == 404
    assert "There is nothing at this address" in response.content.decode()
    assert reverse("job-list") in response.content.decode()


def test_nobody_sees_a_plain_page_where_nothing_is(client):
    response = client.get("/no/such/room/")
    assert response.status_code == 404
    assert reverse("job-list") not in response.content.decode()


def test_a_form_without_its_token_is_refused_in_a_sentence():
    client = Client(enforce_csrf_checks=True)
    client.force_login(PersonFactory(seats=["owner"]))
    response = client.post(reverse("sign-out"))
    assert response.status_code == 403
    assert "This form was too old to be taken" in response.content.decode()


def test_a_host_that_is_not_ours_gets_a_sentence(client, settings):
    settings.ALLOWED_HOSTS = ["shop.example"]
    response = client.get(reverse("sign-in"), headers={"host": "elsewhere.example"})
    assert response.status_code == 400
    assert "could not be understood" in response.content.decode()


def test_a_broken_page_says_that_nothing_was_saved(client, monkeypatch):
    client.raise_request_exception = False
    client.force_login(PersonFactory(seats=["owner"]))
    monkeypatch.setattr("shop.front.views.home.opening", lambda seat, on: 1 / 0)
    response = client.get(reverse("home"))
    assert response.status_code == 500
    assert "Something broke on our side" in response.content.decode()
    assert "ZeroDivision" not in response.content.decode()


def test_search_engines_are_told_to_stay_away(client):
    response = client.get(reverse("robots"))
    assert response.content == b"User-agent: *\nDisallow: /\n"
