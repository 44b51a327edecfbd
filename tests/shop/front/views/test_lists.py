from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from shop.floor.models import Stay
from tests.factories.parts import AnswerFactory
from tests.factories.shop import StayFactory
from tests.factories.units import KindFactory, MachineModelFactory, MakerFactory
from tests.shop.front.ground import customers_job, fill, machine, our_machine

pytestmark = pytest.mark.django_db


def serials(response) -> list[str]:
    assert response.status_code == 200
    return sorted(unit.serial for unit in response.context["machines"])


def numbers(response) -> list[str]:
    assert response.status_code == 200
    return sorted(row.model.number for row in response.context["rows"])


@pytest.fixture
def machines(sit):
    """One of a customer, one of ours, one that left, one never here."""
    customers_job(serial="CV000123")
    our_machine(serial="CV000777")
    gone = StayFactory(unit=machine("CV000888"))
    Stay.objects.filter(pk=gone.pk).update(
        left="returned", left_on=gone.came_on, left_by=gone.came_by
    )
    machine("CV000999", number="R-5", kind=KindFactory(slug="rower", position=9))
    return lambda **asked: serials(sit("technician").get(reverse("machine-list"), asked))


@pytest.mark.parametrize(
    ("asked", "found"),
    [
        ({}, ["CV000123", "CV000777", "CV000888", "CV000999"]),
        ({"whose": "ours"}, ["CV000777"]),
        ({"whose": "customer"}, ["CV000123", "CV000888"]),
        ({"place": "here"}, ["CV000123", "CV000777"]),
        ({"place": "left"}, ["CV000888", "CV000999"]),
        ({"whose": "customer", "place": "here"}, ["CV000123"]),
        ({"kind": "rower"}, ["CV000999"]),
        ({"text": "cv 000-777"}, ["CV000777"]),
        ({"text": "r5"}, ["CV000999"]),
        ({"text": "ann"}, ["CV000123"]),
        ({"text": "no such thing"}, []),
    ],
)
def test_machines_are_narrowed_by(machines, asked, found):
    assert machines(**asked) == found


def test_a_choice_that_is_not_offered_is_said_at_its_field(sit, machines):
    page = sit("technician").get(reverse("machine-list"), {"kind": "spaceship"})
    assert page.status_code == 200
    assert "Select a valid choice" in page.content.decode()


@pytest.fixture
def models(sit):
    today = timezone.localdate()
    AnswerFactory(
        model=MachineModelFactory(number="FRESH-1"),
        given_on=today,
        channel="notice",
        status="ended",
    )
    AnswerFactory(model=MachineModelFactory(number="OLD-1"), given_on=today - timedelta(900))
    MachineModelFactory(number="NEVER-1", kind=KindFactory(slug="rower", position=9))
    MachineModelFactory(number="TYPED-1", maker=MakerFactory(name="Kestrow"), confirmed=False)
    return lambda **asked: numbers(sit("technician").get(reverse("model-list"), asked))


@pytest.mark.parametrize(
    ("asked", "found"),
    [
        ({}, ["FRESH-1", "NEVER-1", "OLD-1", "TYPED-1"]),
        ({"support": "ended"}, ["FRESH-1"]),
        ({"support": "stale"}, ["OLD-1"]),
        ({"support": "supported"}, []),
        ({"support": "not-asked"}, ["NEVER-1", "TYPED-1"]),
        ({"confirmed": "no"}, ["TYPED-1"]),
        ({"confirmed": "yes", "kind": "rower"}, ["NEVER-1"]),
        ({"text": "old1"}, ["OLD-1"]),
    ],
)
def test_models_are_narrowed_by(models, asked, found):
    assert models(**asked) == found


def test_models_are_narrowed_by_maker(models):
    assert models(maker=MakerFactory(name="Kestrow").pk) == ["TYPED-1"]


def test_a_model_merged_into_another_is_not_listed(models):
    into = MachineModelFactory(number="REAL-1")
    MachineModelFactory(number="WRONG-1", merged_into=into)
    assert "WRONG-1" not in models()


@pytest.mark.parametrize("name", ["machine-list", "model-list"])
def test_a_list_needs_no_more_queries_for_more_rows(sit, name, django_assert_max_num_queries):
    fill(2)
    client = sit("owner")
    asked = {"support": "stale"} if name == "model-list" else {"whose": "customer", "place": "here"}
    # The first list of models of a day learns the odds of answers: one query more than the dozen.
    with django_assert_max_num_queries(13 if name == "model-list" else 12) as few:
        client.get(reverse(name), asked)
    fill(4)
    with django_assert_max_num_queries(len(few)):
        client.get(reverse(name), asked)
