import pytest
from django.urls import reverse

from parts.fits.services import set_designation
from tests.factories.parts import PartFactory
from tests.factories.units import MORNING, PersonFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def ask(client):
    client.force_login(PersonFactory(seats=["accountant"]))
    return lambda name, **said: client.get(reverse("standard-parts"), {"ask": name} | said)


def test_a_designation_gives_the_sizes_and_our_parts(ask):
    part = PartFactory(number="BRG-1")
    set_designation(part=part, text="6203ZZ", by=PersonFactory(), at=MORNING)
    page = ask("designation", designation="6203 2z").text
    assert "17 mm" in page
    assert "BRG-1" in page


def test_a_measured_belt_gives_both_designations_and_its_tension(ask):
    said = {"section": "PJ", "width": "18.7", "length": "1244.4", "span": "300", "hertz": "60"}
    page = ask("belt", **said).text
    assert "8PJ1244" in page
    assert "490J8" in page
    assert "under 93 N" in page  # 4 x 0.072 kg/m x (0.3 m)^2 x (60 Hz)^2


def test_a_tension_that_catalogues_make_doubtful_is_told_with_its_bounds(ask):
    said = {"section": "PK", "width": "21.4", "length": "1200", "span": "300", "hertz": "60"}
    assert "between 114 and 212 N" in ask("belt", **said).text


def test_measured_rings_give_the_bearing(ask):
    assert "6203" in ask("bearing", bore="17.1", outside="39.9", width="12").text


def test_sizes_of_no_bearing_are_said_to_be_none(ask):
    assert "Nothing in the table" in ask("bearing", bore="17", outside="40", width="20").text


def test_a_screw_gives_its_key_and_warns_of_the_wrong_one(ask):
    page = ask("key", thread="M8", head="button").text
    assert "5 mm" in page
    assert "3/16 in key seems to fit and rounds the socket" in page


@pytest.mark.parametrize(
    ("name", "said", "field", "sentence"),
    [
        ("designation", {"designation": "8PX1244"}, "designation", "character 3"),
        ("designation", {}, "designation", "required"),
        ("belt", {"section": "PM", "width": "3", "length": "900"}, "width", "narrower than one"),
        ("belt", {"section": "XX", "width": "3", "length": "900"}, "section", "valid choice"),
        ("belt", {"section": "PJ", "length": "900"}, "width", "required"),
        ("bearing", {"bore": "seventeen"}, "bore", "number"),
        ("bearing", {"bore": "NaN"}, "bore", "number"),
        ("key", {"thread": "M7", "head": "cap"}, "thread", "valid choice"),
    ],
)
def test_a_wrong_question_gets_a_sentence_at_its_field(ask, name, said, field, sentence):
    answered = ask(name, **said)
    assert sentence in str(answered.context["forms"][name].errors[field])
    assert "found" not in answered.context


@pytest.mark.parametrize("name", ["", "nothing"])
def test_no_question_shows_the_questions_alone(ask, name):
    answered = ask(name)
    assert answered.status_code == 200
    assert not any(form.is_bound for form in answered.context["forms"].values())
