"""The worker: does, one after another, what web requests left to be done."""

import os
import socket
import time
from datetime import date

from django.core.management import call_command
from django.db import connection
from django.utils import timezone
from django_tasks import TaskResultStatus
from django_tasks_db.management.commands.db_worker import Worker
from django_tasks_db.models import DBTaskResult

from shop.lots.services.recovering import take_up_lists
from units.plates.services.reading_child import reader_child
from units.plates.services.recovering import take_up_readings

INTERVAL = 0.5  # seconds between two looks at an empty queue
DAYS_KEPT = 14


class BackgroundWorker:
    """Looks for tasks until it is stopped, which may happen from a signal or another thread."""

    def __init__(self):
        # A plain flag: the lock of an Event may be held by the very code that a signal interrupts.
        self._stopping = False
        self._tidied_on: date | None = None
        self._tasks = Worker(
            queue_names=["*"],
            interval=0,
            batch=True,
            backend_name="default",
            startup_delay=False,
            max_tasks=None,
            worker_id=f"{socket.gethostname()[:40]}-{os.getpid()}",
            excluded_queue_names=[],
        )

    def run(self) -> None:
        reader_child().start()
        try:
            self._take_up()
            while not self._stopping:
                self._tidy_once_a_day()
                # Only read: an empty queue keeps nobody from writing.
                if DBTaskResult.objects.ready().exists():
                    self._tasks.run()
                time.sleep(INTERVAL)
        finally:
            reader_child().close()
            connection.close()

    def stop(self) -> None:
        """End soon: what is being read is put off, what waits keeps waiting."""
        self._stopping = True
        self._tasks.running = False
        reader_child().stop()

    def _take_up(self) -> None:
        now = timezone.now()
        DBTaskResult.objects.running().update(status=TaskResultStatus.FAILED, finished_at=now)
        take_up_readings(at=now)
        take_up_lists(at=now)

    def _tidy_once_a_day(self) -> None:
        today = timezone.localdate()
        if self._tidied_on != today:
            self._tidied_on = today
            call_command(
                "prune_db_task_results", queue_name="*", min_age_days=DAYS_KEPT, verbosity=0
            )
