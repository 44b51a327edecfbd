"""Two people who log in one machine at once get one machine."""

from tests.ground import finished

PREPARE = """
from django.contrib.auth import get_user_model
from units.catalogue.models import Kind
from units.catalogue.services import find_or_add_maker, find_or_add_model
get_user_model().objects.create_user("robin")
maker = find_or_add_maker(name="Corvane")
find_or_add_model(maker=maker, number="TM-9", kind=Kind.objects.get(slug="treadmill"))
"""
ADD_TWENTY = """
import django; django.setup()
from datetime import UTC, datetime
from django.contrib.auth import get_user_model
from units.catalogue.models import MachineModel
from units.catalogue.services import find_or_add_unit
by, model = get_user_model().objects.get(), MachineModel.objects.get()
at = datetime(2026, 10, 5, 9, 0, tzinfo=UTC)
for number in range(20):
    unit, added = find_or_add_unit(model=model, serial=f"CV {number}", by=by, at=at)
    print(unit.pk, added)
"""


def test_serials_added_by_two_at_once_are_each_one_machine(real_database):
    real_database.python(PREPARE)
    both = [real_database.start("-c", ADD_TWENTY) for _ in range(2)]
    first, second = (finished(process).splitlines() for process in both)
    assert [line.split()[0] for line in first] == [line.split()[0] for line in second]
    assert sum("True" in line for line in first + second) == 20
