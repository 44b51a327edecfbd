from datetime import timedelta

import pytest
from django.db import IntegrityError, transaction

from parts.days.models import Calendar
from parts.days.services import DayClosedError, closed_through, require_open
from parts.stock.models import StockMove
from tests.factories.parts import BinFactory, PartFactory
from tests.factories.units import MORNING, TODAY, PersonFactory

pytestmark = pytest.mark.django_db


def test_a_new_shop_has_closed_nothing():
    assert closed_through() is None
    assert require_open(TODAY) is None


def test_the_day_closed_through_is_closed_and_the_next_is_open():
    Calendar.objects.update(closed_through=TODAY)
    with pytest.raises(DayClosedError, match=r"closed through 5 Oct 2026\. Use a later day"):
        require_open(TODAY)
    assert require_open(TODAY + timedelta(days=1)) is None


def test_the_database_refuses_a_closed_day_whoever_writes():
    Calendar.objects.update(closed_through=TODAY)
    with pytest.raises(IntegrityError, match="this day is closed"), transaction.atomic():
        StockMove.objects.create(
            part=PartFactory(), bin=BinFactory(), reason="received", quantity=1, cost=1,
            moved_on=TODAY, document="D00001", recorded_at=MORNING, recorded_by=PersonFactory(),
        )  # fmt: skip
