"""Who may open what: the table, and a walk over every address, method and seat."""

import pytest
from django.urls import URLPattern, get_resolver, reverse

from shop.front import access
from shop.people.seats import SEATS
from tests.factories.units import PersonFactory

METHODS = ["GET", "POST", "PUT", "PATCH", "DELETE"]
# One value a converter: nothing of that name is there, so nothing is found and nothing is changed.
VALUES = {
    "IntConverter": 987654,
    "StringConverter": "J98765",
    "SlugConverter": "nothing",
    "UUIDConverter": "00000000-0000-4000-8000-000000000000",
}


def patterns(resolver=None) -> list[URLPattern]:
    found = []
    for one in (resolver or get_resolver()).url_patterns:
        found += [one] if isinstance(one, URLPattern) else patterns(one)
    return found


def address(pattern: URLPattern) -> str:
    converters = pattern.pattern.converters.items()
    values = {key: VALUES.get(type(one).__name__, "2026-09") for key, one in converters}
    return reverse(pattern.name, kwargs=values)


def is_closed(response) -> bool:
    to_sign_in = response.status_code == 302 and response.url.startswith(
        reverse("sign-in") + "?next="
    )
    return response.status_code == 403 or to_sign_in


def test_every_address_has_a_name_and_a_row_in_the_table():
    nameless = [str(one.pattern) for one in patterns() if not one.name]
    named = {one.name for one in patterns()}
    assert nameless == []
    assert named - {name for name, _ in access.table()} == set()


def test_every_row_of_the_table_names_an_address():
    assert {name for name, _ in access.table()} - {one.name for one in patterns()} == set()


def test_every_row_of_the_table_names_a_method_that_the_walk_tries():
    assert {method for _, method in access.table()} <= set(METHODS)


@pytest.mark.django_db
@pytest.mark.parametrize("seat", [None, *SEATS])
def test_each_seat_and_nobody_open_exactly_what_the_table_gives_them(client, seat):
    client.raise_request_exception = False
    wrong = []
    person = PersonFactory(seats=[seat]) if seat else None
    for pattern in patterns():
        for method in METHODS:
            if person:
                client.force_login(person)
            else:
                client.logout()
            response = client.generic(method, address(pattern))
            opens = access.may_open([seat] if seat else [], pattern.name, method)
            if opens == is_closed(response) or response.status_code >= 500:
                wrong.append(f"{pattern.name} {method} {response.status_code}")
    assert "; ".join(wrong) == ""


@pytest.mark.django_db
def test_nobody_may_open_an_address_that_the_table_does_not_name(client, monkeypatch):
    client.force_login(PersonFactory(seats=list(SEATS)))
    rules = {key: seats for key, seats in access.table().items() if key[0] != "help"}
    monkeypatch.setattr(access, "table", lambda: rules)
    assert client.get(reverse("help")).status_code == 403


def test_head_is_asked_about_as_get():
    assert access.seats_for("help", "HEAD") == access.seats_for("help", "GET") != frozenset()


def test_an_unknown_seat_in_the_table_is_an_error(tmp_path, monkeypatch):
    wrong = tmp_path / "access.csv"
    wrong.write_text("url,method,seats\nhome,GET,captain\n")
    monkeypatch.setattr(access, "TABLE", wrong)
    with pytest.raises(ValueError, match="captain"):
        access.table.__wrapped__()


def test_a_second_row_for_the_same_address_and_method_is_an_error(tmp_path, monkeypatch):
    wrong = tmp_path / "access.csv"
    wrong.write_text("url,method,seats\nhome,GET,staff\nhome,GET,owner\n")
    monkeypatch.setattr(access, "TABLE", wrong)
    with pytest.raises(ValueError, match="home"):
        access.table.__wrapped__()


def test_what_a_page_may_offer_are_the_names_open_by_any_method():
    names = access.names_open_to(["technician"])
    assert {"work-start", "job", "sign-in"} <= names
    assert names.isdisjoint({"price-set", "intake", "period"})


@pytest.mark.parametrize(
    ("seats", "audience", "sees"),
    [
        (["technician"], "bench", True),
        (["accountant"], "bench", False),
        (["accountant"], "office", True),
        (["front desk"], "office", False),
        (["front desk", "owner"], "office", True),
        ([], "bench", False),
        (["owner"], "somebody", False),
    ],
)
def test_a_file_is_seen_by_its_audience_alone(seats, audience, sees):
    assert access.may_see_file(seats, audience) is sees
