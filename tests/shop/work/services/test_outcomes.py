import uuid
from decimal import Decimal

import pytest

from shop.work.services import add_time, close_job, put_back_part, take_part
from shop.work.services.closing_facts import Ending
from tests.factories.units import TODAY
from tests.shop.work.bench import a_job, an_own_job, in_work, later, looked_at
from units.inspections.models import ComponentOutcome

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("rules")]


def taken(job, part, by):
    return take_part(job=job, part=part, quantity=Decimal(1), key=uuid.uuid4(), by=by, at=later(10))


def closed(job, by, outcome="repaired", **other):
    add_time(job=job, minutes=60, worked_on=TODAY, key=uuid.uuid4(), by=by, at=later(60))
    if outcome == "repaired":
        looked_at(job, by, later(70), occasion="final")
    ending = Ending(outcome, safety_key="here", **other)
    return close_job(job=job, ending=ending, by=by, at=later(90))


def outcomes(job) -> set[tuple[str, str, str, str]]:
    rows = ComponentOutcome.objects.filter(document=job.number)
    return set(rows.values_list("component_id", "fate", "known", "population"))


def test_a_closed_job_says_what_was_found_and_what_was_replaced(technician):
    job = a_job()
    taken(job, in_work(job, technician), technician)
    closed(job, technician)
    assert outcomes(job) == {
        ("running-belt", "worn", "finding", "repair"),
        ("running-belt", "replaced", "work", "repair"),
    }


def test_a_machine_that_we_bought_counts_as_one_of_a_private_house(owner):
    job = an_own_job()
    taken(job, in_work(job, owner), owner)
    closed(job, owner)
    assert {population for *_, population in outcomes(job)} == {"private"}


def test_a_part_put_back_replaced_nothing(technician):
    job = a_job()
    use = taken(job, in_work(job, technician), technician)
    put_back_part(use=use, by=technician, at=later(20))
    closed(job, technician, outcome="unsafe", notice="The frame is cracked.")
    assert outcomes(job) == {("running-belt", "worn", "finding", "repair")}
