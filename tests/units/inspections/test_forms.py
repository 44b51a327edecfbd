from decimal import Decimal

import pytest

from tests.factories.units import MeasureStepFactory, ProtocolStepFactory
from units.inspections.forms import StepForm

pytestmark = pytest.mark.django_db


def form(step, **data):
    return StepForm(data, {}, step=step)


def test_a_condition_step_asks_for_one_of_its_conditions():
    filled = form(ProtocolStepFactory(), condition="glazed", note="shiny")
    assert filled.is_valid()
    assert filled.given() == {
        "condition": "glazed",
        "note": "shiny",
        "outcome": "",
        "upload": None,
    }


def test_a_measure_step_asks_for_a_number_in_its_measure():
    filled = form(MeasureStepFactory(), value=" 11.5 ")
    assert filled.is_valid()
    assert filled.given()["value"] == Decimal("11.5")
    assert str(filled.answer.label) == "Measured, in A"


@pytest.mark.parametrize(
    ("data", "says"),
    [({}, "Choose what you find"), ({"condition": "purple"}, "Select a valid choice")],
)
def test_a_condition_step_without_a_known_condition_says_so_at_the_field(data, says):
    assert says in form(ProtocolStepFactory(), **data).errors["condition"][0]


@pytest.mark.parametrize(
    ("data", "says"),
    [
        ({}, "Write the measured value"),
        ({"value": "about twelve"}, "as a number, such as 11.5"),
        ({"value": "NaN"}, "as a number"),
    ],
)
def test_a_measure_step_without_a_number_says_so_at_the_field(data, says):
    assert says in form(MeasureStepFactory(), **data).errors["value"][0]


def test_not_possible_needs_only_its_reason():
    filled = form(
        MeasureStepFactory(), outcome="not-possible", reason="no meter", value="about twelve"
    )
    assert filled.is_valid()
    assert filled.given()["reason"] == "no meter"


def test_not_possible_without_a_reason_says_so_at_the_reason():
    wrong = form(ProtocolStepFactory(), outcome="not-possible", condition="clean", reason=" ")
    assert list(wrong.errors) == ["reason"]


def test_a_reason_that_is_too_long_is_told_once():
    wrong = form(ProtocolStepFactory(), outcome="not-possible", reason="x" * 201)
    assert len(wrong.errors["reason"]) == 1
