"""What a worker finds when it starts: readings that an earlier one left."""

from datetime import datetime

from django.db import transaction
from django_tasks import TaskResultStatus
from django_tasks_db.models import DBTaskResult

from units.plates.models import PlateReading
from units.plates.services.readings import State, Trouble
from units.plates.services.tasks import read_plate


@transaction.atomic
def take_up_readings(*, at: datetime) -> tuple[int, int]:
    """Give up readings that were begun and never ended; queue waiting ones whose task is lost.

    How many of each. Only for the moment before the one worker begins: whatever is being read then
    is read by nobody.
    """
    left = PlateReading.objects.filter(state=State.READING)
    interrupted = left.update(state=State.UNREAD, trouble=Trouble.INTERRUPTED, ended_at=at)
    tasks = DBTaskResult.objects.filter(
        task_path=read_plate.module_path, status=TaskResultStatus.READY
    )
    queued = {args["args"][0] for args in tasks.values_list("args_kwargs", flat=True)}
    lost = [
        str(pk)
        for pk in PlateReading.objects.filter(state=State.WAITING).values_list("pk", flat=True)
        if str(pk) not in queued
    ]
    for pk in lost:
        read_plate.enqueue(pk)
    return interrupted, len(lost)
