import io

import pytest
from django.contrib.auth import authenticate, get_user_model
from django.core.management import CommandError, call_command
from django.test import RequestFactory

from shop.people.models import Customer
from shop.people.seats import SEATS, seats_of
from tests.factories.shop import CustomerFactory
from units.rows.models import NumberSeries

pytestmark = pytest.mark.django_db


def made(*words: str) -> str:
    output = io.StringIO()
    call_command("demo", "--noserve", *words, stdout=output)
    return output.getvalue()


def sign_ins(output: str) -> dict[str, str]:
    lines = [line.split() for line in output.splitlines() if line.startswith("  ")]
    return {words[0]: words[1] for words in lines}


def signed_in(username: str, password: str):
    return authenticate(RequestFactory().post("/sign-in/"), username=username, password=password)


def test_it_prints_a_sign_in_that_works_for_every_seat():
    held = [
        seats_of(signed_in(username, password))
        for username, password in sign_ins(made("--on", "2026-10-31")).items()
    ]
    assert all([seat] in held for seat in SEATS)
    assert any(len(seats) > 1 for seats in held)


def test_a_second_run_adds_nothing_and_gives_new_passwords():
    first = sign_ins(made("--on", "2026-10-31"))
    counts = get_user_model().objects.count(), Customer.objects.count()
    second = sign_ins(made("--on", "2026-10-31"))
    assert (get_user_model().objects.count(), Customer.objects.count()) == counts
    assert first.keys() == second.keys()
    assert set(first.values()).isdisjoint(second.values())
    assert signed_in("ilse", first["ilse"]) is None
    assert signed_in("ilse", second["ilse"]) is not None


def test_a_later_run_without_a_day_keeps_the_day_of_the_story():
    made("--on", "2026-10-31")
    assert "told for 31" in made()


def test_the_day_of_a_story_that_stands_is_not_changed():
    made("--on", "2026-10-31")
    with pytest.raises(CommandError, match="told for 31"):
        made("--on", "2026-11-30")


def test_a_database_in_use_is_refused_and_left_alone():
    CustomerFactory()
    with pytest.raises(CommandError, match="was not made by the demo"):
        made("--on", "2026-10-31")
    assert not get_user_model().objects.exists()
    assert not NumberSeries.objects.filter(name="demo").exists()


def test_a_database_with_a_person_only_is_refused():
    get_user_model().objects.create_user("somebody")
    with pytest.raises(CommandError, match="was not made by the demo"):
        made("--on", "2026-10-31")


def test_a_production_set_up_is_refused(settings):
    settings.PRODUCTION = True
    with pytest.raises(CommandError, match="production set-up"):
        made("--on", "2026-10-31")
    assert not get_user_model().objects.exists()


@pytest.mark.parametrize("on", ["31.10.2026", "2026-02-30", "soon"])
def test_a_day_that_is_none_is_refused(on):
    with pytest.raises(CommandError, match=f"“{on}” is not a day"):
        made("--on", on)
    assert not NumberSeries.objects.exists()
