import time

import pytest

from tests.ground import RealDatabase

MAKE_TASKS = """
from datetime import timedelta
from django.utils import timezone
from django_tasks_db.models import DBTaskResult
from units.plates.services.tasks import read_plate
from uuid import UUID

def task(name, **facts):
    made = read_plate.enqueue(str(UUID(int=name)))
    DBTaskResult.objects.filter(pk=made.id).update(**facts)

now = timezone.now()
task(1, status="SUCCESSFUL", finished_at=now - timedelta(days=15))
task(2, status="SUCCESSFUL", finished_at=now - timedelta(days=13))
task(3, status="RUNNING")
task(4)
"""
SHOW_TASKS = """
from uuid import UUID
from django_tasks_db.models import DBTaskResult
rows = DBTaskResult.objects.values_list("args_kwargs", "status")
print(*sorted(f"{UUID(args['args'][0]).int}:{status}" for args, status in rows))
"""


@pytest.fixture
def database(sqlite_template, tmp_path) -> RealDatabase:
    database = sqlite_template.copy(tmp_path / "home")
    database.more = {"DJANGO_SETTINGS_MODULE": "tests.faults.obedient_settings"}
    return database


def test_old_tasks_are_removed_abandoned_ones_closed_and_waiting_ones_done(database):
    database.python(MAKE_TASKS)
    worker = database.start("manage.py", "worker")
    wanted = ["2:SUCCESSFUL", "3:FAILED", "4:SUCCESSFUL"]
    until = time.monotonic() + 60
    while (found := database.python(SHOW_TASKS).split()) != wanted and time.monotonic() < until:
        time.sleep(0.2)
    worker.terminate()
    output, _ = worker.communicate(timeout=20)
    assert (found, output) == (wanted, "")
