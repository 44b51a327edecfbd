import pytest
from axes.models import AccessAttempt
from django.conf import settings
from django.urls import reverse

from tests.factories.units import PersonFactory

pytestmark = pytest.mark.django_db
PASSWORD = "a long plain password"


@pytest.fixture
def robin():
    person = PersonFactory(username="robin", seats=["technician"])
    person.set_password(PASSWORD)
    person.save()
    return person


def knock(client, password, name="robin", **more):
    return client.post(reverse("sign-in"), {"username": name, "password": password} | more)


def test_the_right_password_opens_what_is_next(client, robin):
    assert knock(client, PASSWORD).url == reverse("home")


def test_sign_in_leads_back_to_the_page_that_was_asked_for(client, robin):
    assert knock(client, PASSWORD, next="/help/").url == "/help/"


def test_sign_in_never_leads_to_another_shops_address(client, robin):
    assert knock(client, PASSWORD, next="https://elsewhere.example/").url == reverse("home")


def test_a_wrong_password_is_said_in_a_sentence(client, robin):
    response = knock(client, "not that")
    assert "do not belong together" in response.content.decode()
    assert "_auth_user_id" not in client.session


def test_six_wrong_tries_close_the_door_even_to_the_right_password(client, robin):
    for _ in range(settings.AXES_FAILURE_LIMIT):
        knock(client, "not that")
    response = knock(client, PASSWORD)
    assert response.status_code == 429
    assert "Too many wrong passwords" in response.content.decode()
    assert AccessAttempt.objects.get().failures_since_start >= settings.AXES_FAILURE_LIMIT


def test_the_door_stays_open_to_others_while_closed_to_one(client, robin):
    other = PersonFactory(username="kim", seats=["owner"])
    other.set_password(PASSWORD)
    other.save()
    for _ in range(settings.AXES_FAILURE_LIMIT):
        knock(client, "not that")
    assert knock(client, PASSWORD, name="kim").url == reverse("home")


def test_a_device_offers_the_names_that_signed_in_on_it(client, robin):
    knock(client, PASSWORD)
    client.post(reverse("sign-out"))
    page = client.get(reverse("sign-in") + "?person=robin")
    assert page.context["known"] == ["robin"]
    assert 'value="robin"' in page.content.decode()


def test_another_device_offers_no_names(client, robin):
    assert client.get(reverse("sign-in")).context["known"] == []


def test_a_list_of_names_that_somebody_tampered_with_is_not_believed(client):
    client.cookies["people"] = "WyJyb2JpbiJd:forged:forged"
    assert client.get(reverse("sign-in")).context["known"] == []


def test_changing_person_leads_to_the_door(client, robin):
    client.force_login(robin)
    response = client.post(reverse("sign-out"))
    assert response.url == reverse("sign-in")
    assert "_auth_user_id" not in client.session


def test_a_browser_of_another_language_reads_one_language_and_no_mixture(client):
    page = client.post(reverse("sign-in"), {}, headers={"accept-language": "de"}).content.decode()
    assert '<html lang="en">' in page
    assert "This field is required." in page
