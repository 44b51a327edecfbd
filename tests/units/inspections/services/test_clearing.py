from datetime import timedelta

import pytest

from tests.factories.units import (
    MORNING,
    ComponentFactory,
    InspectionFactory,
    PersonFactory,
    ProtocolStepFactory,
)
from units.inspections.models import Clearance
from units.inspections.selectors import standing_findings
from units.inspections.services import clear_findings, finish_inspection, record_result

pytestmark = pytest.mark.django_db


@pytest.fixture
def person():
    return PersonFactory()


@pytest.fixture
def unit(person):
    """A machine with a worn belt, a worn deck and a sound frame."""
    inspection = InspectionFactory()
    for slug, condition in [("running-belt", "glazed"), ("deck", "glazed"), ("frame", "clean")]:
        step = ProtocolStepFactory(
            protocol=inspection.protocol, component=ComponentFactory(slug=slug)
        )
        record_result(inspection=inspection, step=step, condition=condition, by=person, at=MORNING)
    finish_inspection(inspection=inspection, by=person, at=MORNING)
    return inspection.unit


def clear(unit, person, *components):
    return clear_findings(
        unit=unit,
        components=components,
        document="J00001",
        by=person,
        at=MORNING + timedelta(days=1),
    )


def test_clearing_takes_what_stands_on_the_named_components_and_leaves_the_rest(unit, person):
    assert clear(unit, person, "running-belt", "frame") == 1
    left = standing_findings([unit])[unit.pk]
    assert [finding.component_id for finding in left] == ["deck"]


def test_clearing_twice_clears_once(unit, person):
    clear(unit, person, "deck")
    assert clear(unit, person, "deck") == 0
    assert Clearance.objects.count() == 1


def test_a_clearance_says_by_which_document(unit, person):
    clear(unit, person, "deck")
    assert Clearance.objects.get().document == "J00001"
