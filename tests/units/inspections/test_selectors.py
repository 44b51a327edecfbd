from datetime import timedelta

import pytest
from django.conf import settings

from tests.factories.units import (
    MORNING,
    InspectionFactory,
    PersonFactory,
    ProtocolFactory,
    ProtocolStepFactory,
    UnitFactory,
)
from units.inspections.models import Protocol, ProtocolStep
from units.inspections.selectors import (
    cautions,
    inspection_sheet,
    newest_finished,
    standing_findings,
    understanding_rules,
    walk,
)
from units.inspections.services import finish_inspection, open_inspection, record_result

pytestmark = pytest.mark.django_db


@pytest.fixture
def person():
    return PersonFactory()


@pytest.fixture
def inspect(person):
    """Finish an inspection of one step; ``key`` and ``occasion`` say which."""

    def act(unit, condition, day=0, key="belt", occasion="arrival"):
        at = MORNING + timedelta(days=day)
        known = Protocol.objects.filter(kind=unit.model.kind, occasion=occasion).first()
        protocol = known or ProtocolFactory(kind=unit.model.kind, occasion=occasion)
        step = ProtocolStep.objects.filter(protocol=protocol, key=key).first()
        step = step or ProtocolStepFactory(protocol=protocol, key=key)
        inspection = InspectionFactory(
            unit=unit, protocol=protocol, document=f"J{day}", opened_at=at
        )
        for each in protocol.steps.all():
            answer = (
                {"outcome": "not-possible", "reason": "no power"}
                if condition is None
                else {"condition": condition if each == step else "clean"}
            )
            record_result(inspection=inspection, step=each, by=person, at=at, **answer)
        return finish_inspection(inspection=inspection, by=person, at=at)

    return act


def standing(unit):
    return [finding.condition for finding in standing_findings([unit])[unit.pk]]


def test_a_machine_never_looked_at_has_nothing_standing():
    assert standing(UnitFactory()) == []


def test_a_fault_stands_until_the_same_step_finds_it_sound(inspect):
    unit = UnitFactory()
    inspect(unit, "glazed")
    assert standing(unit) == ["glazed"]
    inspect(unit, "clean", day=1)
    assert standing(unit) == []


def test_the_same_step_of_another_protocol_answers_too(inspect):
    unit = UnitFactory()
    inspect(unit, "glazed")
    inspect(unit, "clean", day=1, occasion="final")
    assert standing(unit) == []


def test_a_sound_answer_of_another_step_on_the_same_component_answers_nothing(inspect):
    unit = UnitFactory()
    inspect(unit, "glazed")
    inspect(unit, "clean", day=1, key="tracking", occasion="final")
    assert standing(unit) == ["glazed"]


def test_a_fault_of_one_machine_is_not_that_of_another(inspect):
    first, second = UnitFactory(), UnitFactory()
    inspect(first, "glazed")
    assert standing(second) == []


def test_a_look_that_was_not_possible_does_not_hide_the_fault_before_it(inspect):
    unit = UnitFactory()
    inspect(unit, "glazed")
    inspect(unit, None, day=1)
    assert standing(unit) == ["not-possible", "glazed"]


def test_an_open_inspection_leaves_what_stands_as_it_was(inspect, person):
    unit = UnitFactory()
    inspect(unit, "glazed")
    step = ProtocolStep.objects.get()
    again = InspectionFactory(unit=unit, protocol=step.protocol, document="J9")
    record_result(inspection=again, step=step, condition="clean", by=person, at=MORNING)
    assert standing(unit) == ["glazed"]


def test_findings_of_many_machines_take_one_query(inspect, django_assert_num_queries):
    units = [UnitFactory() for _ in range(4)]
    for unit in units:
        inspect(unit, "glazed")
    with django_assert_num_queries(1):
        found = standing_findings(units)
        words = [(f.component.name, f.result.step.title) for rows in found.values() for f in rows]
    assert len(words) == 4


def test_the_newest_finished_inspection_of_an_occasion_is_found_in_one_query(
    inspect, django_assert_num_queries
):
    first, second, third = UnitFactory(), UnitFactory(), UnitFactory()
    inspect(first, "glazed", day=0)
    newest = inspect(first, "clean", day=2)
    other = inspect(second, "clean", day=1)
    inspect(third, "clean", day=1, occasion="final")
    with django_assert_num_queries(1):
        assert newest_finished([first, second, third], "arrival") == {
            first.pk: newest,
            second.pk: other,
        }


def test_the_sheet_tells_what_this_inspection_found_and_what_it_means(
    reference, person, django_assert_num_queries
):
    unit = UnitFactory()
    sheet_of = open_inspection(unit=unit, occasion="arrival", document="J1", by=person, at=MORNING)
    steps = {step.key: step for step in sheet_of.protocol.steps.all()}
    for key, condition in [("foot-strike", "grooved"), ("frame", "cracked"), ("cord", "sound")]:
        words = {"inspection": sheet_of, "by": person, "at": MORNING}
        record_result(step=steps[key], condition=condition, **words)
    with django_assert_num_queries(3):
        sheet = inspection_sheet(sheet_of)
    assert [(meaning.names, meaning.verdict.rule) for meaning in sheet.meanings] == [
        ("frame", "frame-cracked"),
        ("running belt, deck", "deck-worn"),
    ]
    assert (sheet.done, sheet.next_step.key) == (3, "whole")
    assert [line.label for line in sheet.faults] == ["cracked", "grooved"]


def test_a_step_knows_its_neighbours_and_its_cautions():
    protocol = ProtocolFactory()
    for position in (1, 2, 3):
        ProtocolStepFactory(protocol=protocol, position=position, cautions=["unplug"])
    inspection = InspectionFactory(protocol=protocol, unit__model__kind=protocol.kind)
    steps = walk(inspection)
    pages = [steps.at(position) for position in (1, 2, 3)]
    assert [(page.before, page.after) for page in pages] == [(None, 2), (1, 3), (2, None)]
    assert pages[0].cautions == [cautions()["unplug"]]
    assert steps.at(4) is None


def test_the_table_of_rules_is_read_once():
    assert understanding_rules() is understanding_rules()


def test_the_rules_come_from_the_reference_data():
    text = (settings.BASE_DIR / "fixtures" / "reference" / "rules.toml").read_text()
    assert text.count("[[rules]]") == len(understanding_rules())
