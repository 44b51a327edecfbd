from datetime import timedelta

import pytest
from django.db import IntegrityError, transaction

from tests.factories.units import (
    MORNING,
    TODAY,
    ComponentFactory,
    InspectionFactory,
    PersonFactory,
    ProtocolFactory,
    ProtocolStepFactory,
    UnitFactory,
)
from units.inspections.models import ComponentOutcome
from units.inspections.services import InspectionError, finish_inspection, record_result
from units.inspections.services.outcomes import Look, record_outcomes

pytestmark = pytest.mark.django_db
LATER = MORNING + timedelta(hours=1)
GOOD_OR_BAD = [
    {"condition": "smooth", "label": "smooth", "passes": True},
    {"condition": "grooved", "label": "grooved", "passes": False},
]


@pytest.fixture
def person():
    return PersonFactory()


@pytest.fixture
def unit():
    ComponentFactory(slug="deck")
    ComponentFactory(slug="running-belt")
    return UnitFactory()


@pytest.fixture
def record(unit, person):
    def act(look=None, at=MORNING, **fates):
        look = look or Look(unit=unit, known="finding", document="J00001")
        fates = {name.replace("_", "-"): fate for name, fate in fates.items()}
        return record_outcomes(look=look, fates=fates, on=TODAY, by=person, at=at)

    return act


def outcomes(**narrowed) -> dict[str, str]:
    rows = ComponentOutcome.objects.filter(**narrowed)
    return dict(rows.values_list("component_id", "fate"))


def test_a_look_is_written_down_with_where_the_machine_came_from(record, unit, person):
    look = Look(
        unit=unit, known="donor", document="D1", population="club", state="powered", hours=900
    )
    (row,) = record(look, deck="sound")
    row.refresh_from_db()
    assert (row.population, row.state, row.hours) == ("club", "powered", 900)
    assert (row.source, row.looked_on, row.recorded_by) == ("D1", TODAY, person)


def test_the_same_source_speaks_of_a_component_once(record):
    record(deck="worn")
    assert record(deck="sound", running_belt="sound")[0].component_id == "running-belt"
    assert outcomes() == {"deck": "worn", "running-belt": "sound"}


def test_what_is_done_later_takes_over_what_was_known_of_the_machine(record, unit):
    first = Look(
        unit=unit, known="finding", document="J1", source="inspection 1",
        population="private", state="run", hours=70,
    )  # fmt: skip
    record(first, deck="worn")
    (row,) = record(Look(unit=unit, known="work", document="J1"), deck="replaced")
    assert (row.population, row.state, row.hours) == ("private", "run", 70)


def test_without_a_document_nothing_is_written(record, unit):
    with pytest.raises(InspectionError, match="document"):
        record(Look(unit=unit, known="work", document=" "), deck="replaced")
    assert outcomes() == {}


def test_an_unknown_fate_is_refused_whole(record):
    with pytest.raises(ValueError, match="splendid"):
        record(deck="worn", running_belt="splendid")
    assert outcomes() == {}


def test_the_database_refuses_words_that_nobody_knows(record):
    row = record(deck="worn")[0]
    row.pk, row.source, row.fate = None, "other", "splendid"
    with pytest.raises(IntegrityError), transaction.atomic():
        row.save(force_insert=True)


def test_an_outcome_does_not_change(record):
    row = record(deck="worn")[0]
    with pytest.raises(IntegrityError, match="only grows"), transaction.atomic():
        ComponentOutcome.objects.filter(pk=row.pk).update(fate="sound")


# --- From an inspection


def inspected(person, occasion="arrival", population="", steps=None, **found):
    """Finish an inspection: ``deck="grooved"``; ``None`` was not possible."""
    protocol = ProtocolFactory(occasion=occasion)
    inspection = InspectionFactory(
        protocol=protocol, unit=UnitFactory(), document="J00001", population=population
    )
    for component, condition in found.items():
        step = ProtocolStepFactory(
            protocol=protocol,
            key=component,
            component=ComponentFactory(slug=component.replace("_", "-")),
            conditions=(steps or {}).get(component, GOOD_OR_BAD),
            power="running",
        )
        answer = {"condition": condition}
        if condition is None:
            answer = {"outcome": "not-possible", "reason": "no power"}
        record_result(inspection=inspection, step=step, by=person, at=MORNING, **answer)
    return finish_inspection(inspection=inspection, by=person, at=LATER)


def test_a_finished_inspection_writes_what_it_looked_at(person):
    done = inspected(person, deck="grooved", fan="smooth", breaker=None)
    # The rule "belt and deck together" speaks of the belt too; but nobody looked at it.
    assert outcomes(unit=done.unit) == {"deck": "worn", "fan": "sound"}
    row = ComponentOutcome.objects.get(component="deck")
    assert (row.known, row.document, row.source) == ("finding", "J00001", f"inspection {done.pk}")
    assert (row.state, row.population, row.looked_on) == ("run", "repair", TODAY)


def test_the_population_told_at_the_opening_is_kept(person):
    inspected(person, population="private", deck="smooth")
    assert ComponentOutcome.objects.get().population == "private"


def test_a_final_test_proves_our_work_and_teaches_no_odds(person):
    inspected(person, occasion="final", deck="smooth")
    assert outcomes() == {}


def test_a_step_that_passes_has_looked_at_all_that_it_judges(person):
    ComponentFactory(slug="ribbon")
    keys = [
        {"condition": "all", "label": "all answer", "passes": True},
        {"condition": "loose", "label": "ribbon loose", "passes": False, "component": "ribbon"},
    ]
    inspected(person, steps={"keypad_overlay": keys}, keypad_overlay="all")
    assert outcomes() == {"keypad-overlay": "sound", "ribbon": "sound"}


def test_a_step_that_blames_another_component_says_nothing_of_its_own(person):
    ComponentFactory(slug="ribbon")
    keys = [
        {"condition": "all", "label": "all answer", "passes": True},
        {"condition": "loose", "label": "ribbon loose", "passes": False, "component": "ribbon"},
    ]
    inspected(person, steps={"keypad_overlay": keys}, keypad_overlay="loose")
    assert outcomes() == {"ribbon": "undecided"}


def test_a_question_that_no_answer_fails_is_no_look_at_a_component(person):
    """Not looked at is missing, never fine: whoever asks about the outlet has seen no cord."""
    outlet = [
        {"condition": "own-circuit", "label": "its own", "passes": True},
        {"condition": "shared-outlet", "label": "shared", "passes": True},
    ]
    inspected(person, steps={"power_cord": outlet}, power_cord="own-circuit")
    assert outcomes() == {}


def test_a_plate_that_is_read_is_no_look_at_the_frame(person):
    inspected(person, plate="smooth")
    assert outcomes() == {}
