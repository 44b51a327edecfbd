"""The whole stock's readiness in one list: as many queries for 1,017 machines as for one, and for
each machine what looking at it alone says."""

from datetime import timedelta
from decimal import Decimal
from uuid import uuid4

import pytest
from django.db import connection

from shop.floor.models import Stay
from shop.resale.models import AskingPrice, Grading, HoldingRule
from shop.resale.selectors import for_sale, one_for_sale, our_stays
from tests.factories.resale import (
    OwnStayFactory,
    attach,
    finished_inspection,
    ready_stay,
)
from tests.factories.shop import WorkOrderFactory
from tests.factories.units import MORNING, TODAY, MachineModelFactory, PersonFactory
from tests.shop.resale.selectors.test_readiness import add_finding, recalled_stay
from tests.shop.resale.test_exits import let_pass, reserve
from units.catalogue.models import Unit
from units.recalls.models import RecallCheck

pytestmark = pytest.mark.django_db

PLAIN = 1_000
MOST_QUERIES = 12


def singular() -> list[Stay]:
    """17 machines, each with something of its own."""
    stays = [ready_stay(TODAY - timedelta(days=days)) for days in (0, 10, 20, 31, 40, 190)]
    sound, held, faulty, unsafe, busy, worked = (ready_stay() for _ in range(6))
    reserve(sound)
    Stay.objects.filter(pk=held.pk).update(came_on=TODAY + timedelta(days=1))
    for stay, holds in ((faulty, False), (unsafe, True)):
        add_finding(stay.unit.inspections.get(protocol__occasion="arrival"), holds=holds)
    attach(faulty, "as-is")
    WorkOrderFactory(stay=busy, purpose="own", owner=None, state="in-work")
    job = WorkOrderFactory(stay=worked, purpose="own", owner=None, state="closed")
    job.time_entries.create(
        key=uuid4(),
        technician=PersonFactory(),
        worked_on=TODAY,
        minutes=10,
        cost=Decimal("5.00"),
        recorded_at=MORNING + timedelta(hours=4),
    )
    bare, passed, looked_at, older = (OwnStayFactory() for _ in range(4))
    let_pass(passed, "wholesale", "plate")
    finished_inspection(looked_at.unit, "arrival")
    HoldingRule.objects.create(
        days=5, from_on=TODAY - timedelta(days=9), set_at=MORNING, set_by=PersonFactory()
    )
    Stay.objects.filter(pk=older.pk).update(came_on=TODAY - timedelta(days=5))
    found = [sound, held, faulty, unsafe, busy, worked, bare, passed, looked_at, older]
    return [*stays, *found, recalled_stay()]


def plain(by, count: int = PLAIN) -> None:
    """Machines of ten models, written down to a different degree each; some with a fault."""
    models = [MachineModelFactory(volts=120, plug="5-15") for _ in range(10)]
    units = Unit.objects.bulk_create(
        Unit(
            model=models[number % 10],
            maker=models[0].maker,
            serial=f"WS{number}",
            serial_key=f"WS{number}",
            first_seen_at=MORNING,
            first_seen_by=by,
        )
        for number in range(count)
    )
    stays = Stay.objects.bulk_create(
        Stay(
            unit=unit,
            came="purchase",
            came_on=TODAY - timedelta(days=number % 23),
            came_by=by,
        )
        for number, unit in enumerate(units)
    )
    RecallCheck.objects.bulk_create(
        RecallCheck(
            unit=unit,
            outcome=("none", "fits", "unsure")[number % 3],
            source="the public list",
            checked_on=TODAY - timedelta(days=number % 41),
            recorded_at=MORNING,
            recorded_by=by,
        )
        for number, unit in enumerate(units)
        if number % 2
    )
    Grading.objects.bulk_create(
        Grading(
            stay=stay,
            grade="ABC"[number % 3],
            cleaned=number % 5 > 0,
            safety_key_present=number % 7 > 0,
            graded_at=MORNING,
            graded_by=by,
        )
        for number, stay in enumerate(stays)
        if number % 4
    )
    AskingPrice.objects.bulk_create(
        AskingPrice(
            stay=stay,
            price=Decimal(100 + number),
            floor=Decimal(100),
            set_at=MORNING,
            set_by=by,
        )
        for number, stay in enumerate(stays)
        if number % 3
    )
    for unit in units[::90]:
        add_finding(finished_inspection(unit, "arrival"))


def answers(looks) -> dict[int, list]:
    """By stay: what every exit still asks for, with its sentence and its link."""
    return {
        one.stay.pk: [
            (way.exit.key, gap.key, gap.sentence, gap.href, gap.waivable)
            for way in one.ways_out
            for gap in way.unmet
        ]
        for one in looks
    }


@pytest.fixture
def stock():
    found = singular()
    assert len(found) == 17
    plain(PersonFactory())
    with connection.cursor() as cursor:  # rows that came all at once are in no statistics yet
        cursor.execute("ANALYZE")
    return found


def test_1017_machines_are_looked_at_as_each_of_them_alone(stock, django_assert_max_num_queries):
    with django_assert_max_num_queries(MOST_QUERIES):
        together = answers(for_sale(our_stays(), TODAY))
    assert len(together) == 1_017
    alone = answers(one_for_sale(pk, TODAY) for pk in together)
    assert together == alone
    # The stock is no mass of alike machines: else one answer for all would pass.
    assert len({str(gaps) for gaps in together.values()}) > 100
    conditions = {gap[1] for gaps in together.values() for gap in gaps}
    assert len(conditions) >= 20, conditions
