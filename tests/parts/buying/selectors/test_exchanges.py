from datetime import timedelta

import pytest

from parts.buying.selectors import cores_to_send
from tests.factories.units import TODAY
from tests.parts.buying.purchase import an_exchange, step

pytestmark = pytest.mark.django_db


def test_an_old_one_waits_from_the_day_the_other_came_until_it_is_sent():
    exchange = an_exchange(core_days=14)
    assert cores_to_send(TODAY) == []
    step(exchange, "came", TODAY)
    (core,) = cores_to_send(TODAY)
    assert (core.exchange, core.due_on, core.late) == (exchange, TODAY + timedelta(days=14), False)
    (late,) = cores_to_send(TODAY + timedelta(days=15))
    assert late.late
    step(exchange, "sent", TODAY)
    assert cores_to_send(TODAY) == []


def test_those_due_first_stand_first_and_those_without_a_day_last():
    exchanges = [an_exchange(core_days=days, supplier=f"W{days}") for days in (None, 30, 7)]
    for exchange in exchanges:
        step(exchange, "came", TODAY)
    assert [core.exchange.core_days for core in cores_to_send(TODAY)] == [7, 30, None]
