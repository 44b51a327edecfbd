import uuid
from datetime import timedelta
from decimal import Decimal

import pytest

from shop.work.selectors.fixes import past_fixes
from shop.work.services import add_time, close_job, take_part
from shop.work.services.closing_facts import Ending
from tests.factories.shop import StayFactory, WorkOrderFactory
from tests.factories.units import TODAY
from tests.shop.work.bench import a_job, in_work, later, looked_at

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("rules")]


@pytest.fixture
def repaired(technician):
    """A job about a slipping belt, closed with a new one."""
    job = a_job(complaint="Belt slips under load")
    belt = in_work(job, technician)
    words = {"key": uuid.uuid4(), "by": technician}
    take_part(job=job, part=belt, quantity=Decimal(1), at=later(10), **words)
    add_time(job=job, minutes=60, worked_on=TODAY, at=later(60), **words)
    looked_at(job, technician, later(70), occasion="final")
    return close_job(job=job, ending=Ending("repaired", "here"), by=technician, at=later(90))


def fixes_of(job, on=TODAY):
    return past_fixes([job.unit.model_id], on)


def test_a_closed_job_says_what_was_done_about_its_complaint(repaired):
    (record,) = fixes_of(repaired)
    assert record.symptom.key == "slips"
    assert record.outcomes == (("repaired", 1),)
    assert record.done == ((("running belt", "replaced"), 1),)
    assert (record.judged, record.back) == (0, 0)
    assert record.fixes[0].number == repaired.number


def test_a_machine_that_came_again_soon_counts_as_a_repeat(repaired):
    at = later(90) + timedelta(30)
    WorkOrderFactory(
        stay=StayFactory(unit=repaired.unit, came_on=at.date(), left="returned", left_on=at.date(),
                         left_by=repaired.opened_by),
        opened_at=at, opened_on=at.date(),
    )  # fmt: skip
    (record,) = fixes_of(repaired, TODAY + timedelta(31))
    assert (record.judged, record.back) == (1, 1)


def test_a_machine_that_stayed_away_counts_as_none(repaired):
    (record,) = fixes_of(repaired, TODAY + timedelta(120))
    assert (record.judged, record.back) == (1, 0)


def test_open_jobs_and_other_models_tell_nothing(repaired):
    a_job(complaint="Belt slips too")
    assert past_fixes([repaired.unit.model_id + 1000], TODAY) == []
    assert len(fixes_of(repaired)[0].fixes) == 1


def test_past_fixes_take_three_queries_however_many(repaired, django_assert_num_queries):
    model = repaired.unit.model_id
    with django_assert_num_queries(3):
        past_fixes([model], TODAY)
