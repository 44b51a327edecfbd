"""Both halves of a double press, served at once, make one job and one purchase."""

import pytest

from tests.ground import finished

PREPARE = """
from datetime import date
from django.contrib.auth import get_user_model
from units.catalogue.models import Kind
from units.catalogue.services import find_or_add_maker, find_or_add_model
get_user_model().objects.create_user("robin")
maker = find_or_add_maker(name="Corvane")
find_or_add_model(maker=maker, number="TM-9", kind=Kind.objects.get(slug="treadmill"))
"""
PRESS = """
import django; django.setup()
from datetime import UTC, datetime
from decimal import Decimal
from uuid import UUID
from django.contrib.auth import get_user_model
from shop.work.services import Errand, Machine, Person, buy_machine, log_in
by, at = get_user_model().objects.get(), datetime(2026, 10, 5, 9, 0, tzinfo=UTC)
for number in range(1, 16):
    said = {"key": UUID(int=number), "by": by, "at": at}
    person = Person(name=f"Customer {number}", phone=f"+1202555{100 + number:04}")
"""
LOG_IN = """
    machine = Machine(maker="Corvane", number="TM-9", serial=SERIAL)
    job = log_in(person=person, machine=machine, errand=Errand(complaint="Slips."), **said)
    print(job.number)
"""
BUY = """
    machine = Machine(maker="Corvane", number="TM-9", serial=SERIAL)
    print(buy_machine(seller=person, machine=machine, price=Decimal(90), **said).pk)
"""
COUNT = """
from shop.floor.models import Stay
from shop.people.models import Customer
from shop.work.models import WorkOrder
from units.catalogue.models import Unit
print(*[model.objects.count() for model in (WorkOrder, Stay, Customer, Unit)])
"""


@pytest.mark.parametrize("deed", [LOG_IN, BUY], ids=["log in", "buy"])
@pytest.mark.parametrize("serial", ['f"CV {number}"', '""'], ids=["with a serial", "without"])
def test_a_double_press_is_one_deed(real_database, deed, serial):
    real_database.python(PREPARE)
    code = PRESS + deed.replace("SERIAL", serial)
    first, second = (finished(one) for one in [real_database.start("-c", code) for _ in range(2)])
    assert first == second
    assert len(first.split()) == 15
    assert real_database.python(COUNT).split() == ["15"] * 4
