"""The demo command. Its story is told once a session; what changes it works on a copy."""

import io

import pytest
from django.contrib.auth import get_user_model
from django.core.management import CommandError, call_command

from shop.people.seats import SEATS
from tests.conftest import DEMO_DAY
from tests.factories.shop import CustomerFactory
from tests.ground import RealDatabase
from units.rows.models import NumberSeries

COUNT = """
from django.apps import apps
left_out = {"sessions.Session", "axes.AccessLog"}
for model in apps.get_models():
    if model._meta.label not in left_out:
        print(model._meta.label, model._default_manager.count())
"""
TRY_SIGN_INS = """
from django.contrib.auth import authenticate
from django.test import RequestFactory
from shop.people.seats import seats_of
for username, password in {sign_ins!r}.items():
    user = authenticate(RequestFactory().post("/"), username=username, password=password)
    print(username, "|".join(seats_of(user)) if user else "refused", sep="=")
"""


@pytest.fixture
def demo(demo_template, tmp_path) -> RealDatabase:
    return demo_template.copy(tmp_path / "home")


def sign_ins(said: str) -> dict[str, str]:
    lines = [line.split() for line in said.splitlines() if line.startswith("  ")]
    return {words[0]: words[1] for words in lines}


def told_line(said: str) -> str:
    return next(line for line in said.splitlines() if "told for" in line)


def tried(database: RealDatabase, given: dict[str, str]) -> dict[str, str]:
    answers = database.python(TRY_SIGN_INS.format(sign_ins=given)).splitlines()
    return dict(answer.split("=") for answer in answers if "=" in answer)


def refusal(*words: str) -> str:
    with pytest.raises(CommandError) as refused:
        call_command("demo", "--noserve", *words, stdout=io.StringIO())
    return str(refused.value)


def test_it_prints_a_sign_in_that_works_for_every_seat_and_for_two_at_once(demo, demo_template):
    held = tried(demo, sign_ins(demo_template.said)).values()
    assert set(SEATS) <= set(held)
    assert any("|" in seats for seats in held)
    assert "refused" not in held


def test_a_second_run_adds_nothing_and_gives_new_passwords(demo, demo_template):
    before = demo.python(COUNT)
    again = sign_ins(demo.manage("demo", "--noserve", "--on", DEMO_DAY))
    first = sign_ins(demo_template.said)
    assert demo.python(COUNT) == before
    assert again.keys() == first.keys()
    assert set(tried(demo, first).values()) == {"refused"}
    assert "refused" not in tried(demo, again).values()


def test_a_later_run_without_a_day_keeps_the_day_of_the_story(demo, demo_template):
    first, later = told_line(demo_template.said), told_line(demo.manage("demo", "--noserve"))
    assert first == later
    assert "2026" in first


def test_the_day_of_a_story_that_stands_is_not_changed(demo):
    process = demo.start("manage.py", "demo", "--noserve", "--on", "2026-11-30")
    said, _ = process.communicate(timeout=600)
    assert process.returncode == 1
    assert "The story in this database is told for" in said
    assert "Traceback" not in said


@pytest.mark.django_db
def test_a_database_in_use_is_refused_and_left_alone():
    CustomerFactory()
    assert "was not made by the demo" in refusal()
    assert not get_user_model().objects.exists()
    assert not NumberSeries.objects.exists()


@pytest.mark.django_db
def test_a_database_with_a_person_only_is_refused():
    get_user_model().objects.create_user("somebody")
    assert "was not made by the demo" in refusal()


@pytest.mark.django_db
def test_a_production_set_up_is_refused(settings):
    settings.PRODUCTION = True
    assert "production set-up" in refusal()
    assert not get_user_model().objects.exists()


@pytest.mark.django_db
@pytest.mark.parametrize("on", ["31.10.2026", "2026-02-30", "soon"])
def test_a_day_that_is_none_is_refused(on):
    assert f"“{on}” is not a day" in refusal("--on", on)
    assert not NumberSeries.objects.exists()
