from datetime import datetime, time, timedelta

import pytest
from django.core.cache import cache
from django.utils import timezone

from tests.factories.units import (
    ComponentFactory,
    KindComponentFactory,
    MachineModelFactory,
    PersonFactory,
    UnitFactory,
)
from units.catalogue.services import merge_model
from units.inspections.domain.odds import Cell, stated
from units.inspections.selectors.odds import cells_of, odds_of
from units.inspections.services.outcomes import Look, record_outcomes

pytestmark = pytest.mark.django_db
BELT = Cell("treadmill", "running-belt")


@pytest.fixture
def model():
    ComponentFactory(slug="running-belt")
    return MachineModelFactory(grade="residential")


@pytest.fixture
def look(model):
    person = PersonFactory()

    def act(
        fate="worn", days_ago=3, unit=None, known="finding", document="", written=None, **other
    ):
        day = timezone.localdate() - timedelta(days_ago)
        unit = unit or UnitFactory(model=other.pop("model", model))
        look = Look(unit=unit, known=known, document=document or f"J{unit.pk}", **other)
        written = day if written is None else timezone.localdate() - timedelta(written)
        at = timezone.make_aware(datetime.combine(written, time(12)))
        record_outcomes(look=look, fates={"running-belt": fate}, on=day, by=person, at=at)
        return unit

    return act


def belt(on=None, **narrowed):
    cell = Cell("treadmill", "running-belt", **narrowed)
    return odds_of([cell], on)[cell]


def test_before_anything_was_looked_at_the_prior_stands(model):
    odds = belt()
    assert odds.prior_only
    assert odds.mean == pytest.approx(stated().prior(BELT).chance)


def test_outcomes_move_the_odds_and_are_counted(look):
    for fate in ["worn", "replaced", "sound"]:
        look(fate)
    odds = belt()
    prior = stated().prior(BELT)
    # Closed form: a beta prior and 2 of 3.
    expected = (prior.chance * prior.counts_as + 2) / (prior.counts_as + 3)
    assert (odds.worn_here, odds.looked_here) == (2, 3)
    assert odds.mean == pytest.approx(expected)


def test_a_finding_and_the_work_that_followed_are_one_outcome(look):
    unit = look("worn", document="J1", source="inspection 1")
    look("replaced", unit=unit, known="work", document="J1")
    assert (belt().worn_here, belt().looked_here) == (1, 1)


def test_what_was_undecided_is_decided_by_the_work(look):
    one = look("undecided", document="J1", source="inspection 1")
    other = look("undecided", document="J2", source="inspection 2")
    look("undecided", document="J3")
    look("replaced", unit=one, known="work", document="J1")
    look("serviced", unit=other, known="work", document="J2")
    assert (belt().worn_here, belt().looked_here) == (1, 2)


def test_a_part_changed_where_nobody_wrote_down_a_look_teaches_nothing(look):
    look("replaced", known="work")
    assert belt().prior_only


def test_a_donor_that_was_taken_apart_was_looked_at(look):
    look("worn", known="donor")
    assert belt().looked_here == 1


def test_only_what_was_written_down_by_last_evening_counts(look):
    look(days_ago=3, written=0)
    assert belt().prior_only


def test_any_past_day_is_answered_as_it_was_then(look):
    look(days_ago=5, written=2)
    look(days_ago=9)
    today = timezone.localdate()
    assert belt().looked_here == 2
    assert belt(today - timedelta(3)).looked_here == 1
    assert belt(today - timedelta(30)).prior_only


def test_the_model_and_the_names_merged_into_it_count_as_here(look, model):
    other, away = MachineModelFactory(), MachineModelFactory(grade="residential")
    look(model=other)
    look("sound", model=away)
    look(model=model)
    merge_model(model=other, into=model)
    odds = belt(model=model.pk, grade="residential")
    assert (odds.worn_here, odds.looked_here, odds.looked_elsewhere) == (2, 2, 1)


def test_populations_states_and_hours_narrow(look):
    look(population="club", state="run", hours=3000)
    look("sound", population="repair")
    club = belt(population="club", state="run", hours=stated().band(3000))
    assert (club.worn_here, club.looked_here, club.looked_elsewhere) == (1, 1, 1)


def test_every_component_of_the_kind_has_its_cell(model):
    KindComponentFactory(component=ComponentFactory(slug="deck"), position=2)
    KindComponentFactory(component=ComponentFactory(slug="running-belt"), position=1)
    cells = cells_of(model, "club", hours=100, state="run")
    assert [cell.component for cell in cells] == ["running-belt", "deck"]
    assert {(cell.grade, cell.model, cell.hours, cell.state) for cell in cells} == {
        ("residential", model.pk, "0-", "run")
    }


def test_a_day_learns_once_and_asks_one_query_more(look, django_assert_num_queries):
    for _ in range(5):
        look()
    cells = [BELT, Cell("treadmill", "deck")]
    with django_assert_num_queries(2):
        first = odds_of(cells)
    with django_assert_num_queries(1):
        assert odds_of(cells) == first


def test_what_is_added_late_to_the_past_is_heard(look):
    look(days_ago=5)
    assert belt().looked_here == 1
    look(days_ago=4)
    assert belt().looked_here == 2
    cache.clear()
    assert belt().looked_here == 2
