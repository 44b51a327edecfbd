"""What a worker finds when it starts: lists that an earlier one left."""

from datetime import datetime

from django.db import transaction
from django.utils.translation import gettext as _
from django_tasks import TaskResultStatus
from django_tasks_db.models import DBTaskResult

from shop.lots.models import LotSource
from shop.lots.services.tasks import read_source

State = LotSource.State


@transaction.atomic
def take_up_lists(*, at: datetime) -> tuple[int, int]:
    """Give up lists that were begun and never ended; queue waiting ones whose task is lost.

    How many of each. Only for the moment before the one worker begins: whatever is being read then
    is read by nobody.
    """
    trouble = _("The computer was stopped while it read this list. Have it read again.")
    left = LotSource.objects.filter(state=State.READING)
    interrupted = left.update(state=State.UNREAD, trouble=trouble, ended_at=at)
    tasks = DBTaskResult.objects.filter(
        task_path=read_source.module_path, status=TaskResultStatus.READY
    )
    queued = {args["args"][0] for args in tasks.values_list("args_kwargs", flat=True)}
    waiting = LotSource.objects.filter(state=State.WAITING).values_list("pk", flat=True)
    lost = [str(pk) for pk in waiting if str(pk) not in queued]
    for pk in lost:
        read_source.enqueue(pk)
    return interrupted, len(lost)
