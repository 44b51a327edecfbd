"""The measuring tools beside the steps of an inspection that ask for what they work out."""

import uuid

import pytest
from django.urls import reverse
from uncertainties import ufloat

from tests.factories.units import (
    MORNING,
    InspectionFactory,
    MachineModelFactory,
    MeasureStepFactory,
    ProtocolStepFactory,
    UnitFactory,
)
from units.inspections.domain.measures.outcome import Figure, Outcome
from units.inspections.domain.measures.tools import TOOLS, tools_at
from units.inspections.models import MeasureReading
from units.inspections.selectors import protocol_tables
from units.inspections.services import record_reading, record_result, withdraw_reading

pytestmark = pytest.mark.django_db


@pytest.fixture
def bench(client, technician):
    client.force_login(technician)
    return client


@pytest.fixture
def inspection():
    """A treadmill's: the current is the first of its steps."""
    unit = UnitFactory(model=MachineModelFactory(kind__slug="treadmill"))
    inspection = InspectionFactory(unit=unit)
    MeasureStepFactory(protocol=inspection.protocol, position=1, key="current")
    return inspection


def step_address(inspection, position=1):
    return reverse("inspection-step", args=[inspection.pk, position])


def tool_address(inspection, slug, step=1):
    return f"{reverse('measuring-tool', args=[slug])}?inspection={inspection.pk}&step={step}"


def kept(inspection, person, value=9.23456789, name="current", sort="current"):
    return record_reading(
        unit=inspection.unit, inspection=inspection, tool=TOOLS[name], inputs={},
        outcome=Outcome(Figure("Current", ufloat(value, 0.00001), sort)),
        key=uuid.uuid4(), by=person, at=MORNING,
    )  # fmt: skip


def test_the_shipped_steps_for_which_a_tool_is_made_are_named_by_it():
    asked = {step.key for one in protocol_tables() for step in one.steps}
    assert {key for tool in TOOLS.values() for key in tool.steps} <= asked
    assert [tool.slug for tool in tools_at("current", "treadmill")] == ["current", "friction"]
    assert [tool.slug for tool in tools_at("drive-belt", "rower")] == ["belt-tension"]
    assert tools_at("current", "rower") == []
    measured = {
        (step.key, one.kind) for one in protocol_tables() for step in one.steps if step.high
    }
    assert all(tools_at(key, kind) for key, kind in measured)


def test_a_step_with_a_measure_leads_to_its_tools_and_back(bench, inspection):
    page = bench.get(step_address(inspection)).content.decode()
    address = tool_address(inspection, "friction").replace("&", "&amp;")
    assert f'href="{address}"' in page
    tool = bench.get(tool_address(inspection, "friction")).content.decode()
    assert f'href="{step_address(inspection)}"' in tool
    assert '<input type="hidden" name="step" value="1">' in tool


def test_a_step_without_a_measure_names_no_tool(bench, inspection):
    ProtocolStepFactory(protocol=inspection.protocol, position=2, key="frame")
    screens = bench.get(step_address(inspection, 2)).content.decode().split("<section")
    assert "/measuring/" not in next(one for one in screens if 'data-step="2"' in one)


def test_keeping_a_reading_leads_back_to_the_step_with_its_value_in_the_field(bench, inspection):
    words = "&loaded=9.2&speed=3&walker=176&work=1"
    answer = bench.post(tool_address(inspection, "current") + words, {"key": uuid.uuid4()})
    assert answer.url == step_address(inspection)
    assert MeasureReading.objects.get().inspection == inspection
    page = bench.get(answer.url)
    assert page.context["form"]["value"].value() == "9.2"
    assert "A tool worked this out" in page.content.decode()
    assert inspection.results.count() == 0


def test_what_a_tool_worked_out_has_no_more_decimals_than_a_result(bench, inspection, technician):
    kept(inspection, technician)
    value = bench.get(step_address(inspection)).context["form"]["value"].value()
    assert value == "9.2346"
    assert bench.post(step_address(inspection), {"value": value}).status_code == 302


def test_a_withdrawn_reading_or_one_in_another_measure_fills_nothing(bench, inspection, technician):
    reading = kept(inspection, technician)
    withdraw_reading(reading=reading, reason="wrong cord", by=technician, at=MORNING)
    kept(inspection, technician, sort="power")
    assert bench.get(step_address(inspection)).context["form"]["value"].value() is None


def test_what_was_recorded_by_hand_stands_before_a_tool(bench, inspection, technician):
    step = inspection.protocol.steps.get()
    record_result(inspection=inspection, step=step, value=8, by=technician, at=MORNING)
    kept(inspection, technician)
    page = bench.get(step_address(inspection))
    assert page.context["form"]["value"].value() == "8"
    assert "A tool worked this out" not in page.content.decode()


@pytest.mark.parametrize("step", ["x", "-1", "٣", "99999999", "<b>"])
def test_a_step_that_is_none_leads_back_to_the_inspection(bench, inspection, step):
    page = bench.get(tool_address(inspection, "current", step)).content.decode()
    assert f'href="{reverse("inspection", args=[inspection.pk])}"' in page
