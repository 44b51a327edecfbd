import json
from datetime import timedelta
from io import StringIO

import pytest
from django.core.management import CommandError, call_command
from django.utils import timezone

from tests.factories.parts import AnswerFactory
from tests.factories.units import KindComponentFactory, MachineModelFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def model():
    model = MachineModelFactory(maker__name="Corvane", number="T-310", key="T310")
    KindComponentFactory(kind=model.kind, component__slug="running-belt", wears=True)
    return model


def told(*args, **options):
    out = StringIO()
    call_command("support", *args, stdout=out, **options)
    return out.getvalue()


def test_the_json_has_its_keys_and_the_evidence(model):
    day = timezone.localdate() - timedelta(days=20)
    answer = AnswerFactory(model=model, given_on=day, warranty="no")
    found = json.loads(told("T-310", as_json=True))
    assert found["model"] == str(model)
    assert (found["status"], found["source"], found["age_days"], found["fresh"]) == (
        "supported",
        "parts desk",
        20,
        True,
    )
    assert (found["answered_on"], found["answer"]) == (day.isoformat(), answer.pk)
    assert 0.5 < found["holds_probability"] < 1
    assert found["warranty"] == "no"
    [component] = found["components"]
    assert (component["component"], component["status"], component["route"]) == (
        "running-belt",
        "had",
        "maker",
    )
    assert component.keys() >= {"cost", "lead_days", "answered_on"}


def test_a_day_a_year_ago_differs_as_the_evidence_did(model):
    today = timezone.localdate()
    AnswerFactory(model=model, given_on=today - timedelta(days=380), status="supported")
    AnswerFactory(model=model, given_on=today, status="ended")
    then = json.loads(told("T-310", as_json=True, on=(today - timedelta(days=365)).isoformat()))
    assert then["status"] == "supported"
    assert json.loads(told("T-310", as_json=True))["status"] == "ended"


def test_by_the_day_of_entry_a_late_note_was_not_known(model):
    today = timezone.localdate()
    AnswerFactory(model=model, given_on=today - timedelta(days=60), recorded_at=timezone.now())
    on = (today - timedelta(days=30)).isoformat()
    assert json.loads(told("T-310", as_json=True, on=on))["status"] == "supported"
    late = json.loads(told("T-310", as_json=True, on=on, entered=True))
    assert late["status"] == "not-asked"


def test_the_plain_form_says_it_in_sentences(model):
    AnswerFactory(model=model, given_on=timezone.localdate())
    found = told("t310")
    assert "supported, said parts desk" in found
    assert "Everything that wears can be had." in found


def test_a_number_of_two_makers_needs_the_maker(model):
    MachineModelFactory(maker__name="Holmgate", maker__key="HOLMGATE", number="T-310", key="T310")
    with pytest.raises(CommandError, match="Several makers have this number"):
        told("T-310")
    assert "Corvane T-310" in told("Corvane T-310")


def test_a_number_nobody_knows_gets_a_sentence():
    with pytest.raises(CommandError, match="No model has the number “Z-9”"):
        told("Z-9")


@pytest.mark.parametrize(
    ("day", "sentence"), [("soon", "is not a day"), ("2999-01-01", "has not come yet")]
)
def test_a_day_that_cannot_be_asked_about_gets_a_sentence(model, day, sentence):
    with pytest.raises(CommandError, match=sentence):
        told("T-310", on=day)
