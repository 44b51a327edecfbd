"""One worker beside the web process: started with it, started again when it dies, ended with it."""

import os
import subprocess
import sys
import time
from collections.abc import Callable
from threading import Event, Lock, Thread

from django.conf import settings
from django.utils.translation import gettext as _

FIRST_PAUSE, LONGEST_PAUSE = 1, 60  # seconds
PATIENCE = 10  # seconds that a worker has to end


class Background:
    """A context in which a worker runs. ``say`` is told, in a sentence, when it has to be renewed.

    The worker holds the other end of a pipe and ends when that closes, which it does too when this
    process is killed: on no system is one left behind.
    """

    def __init__(self, say: Callable[[str], object]):
        self._say = say
        self._stopping, self._lock = Event(), Lock()
        self._process: subprocess.Popen | None = None
        self._watcher = Thread(target=self._watch, daemon=True)

    def __enter__(self):
        self._watcher.start()
        return self

    def __exit__(self, *_error):
        with self._lock:
            self._stopping.set()
        if self._process:
            self._process.stdin.close()
        self._watcher.join(PATIENCE)
        if self._watcher.is_alive():
            self._process.kill()
            self._watcher.join()

    def _watch(self) -> None:
        pause = FIRST_PAUSE
        while process := self._started():
            began = time.monotonic()
            code = process.wait()
            if self._stopping.is_set():
                return
            process.stdin.close()
            pause = FIRST_PAUSE if time.monotonic() - began > LONGEST_PAUSE else pause
            self._say(
                _("The background worker ended (%(code)d) and starts again in %(pause)d s.")
                % {"code": code, "pause": pause}
            )
            self._stopping.wait(pause)
            pause = min(2 * pause, LONGEST_PAUSE)

    def _started(self) -> subprocess.Popen | None:
        with self._lock:
            if self._stopping.is_set():
                return None
            self._process = subprocess.Popen(
                [sys.executable, "-m", "django", "worker", "--beside"],
                cwd=settings.BASE_DIR,
                env=os.environ | {"DJANGO_SETTINGS_MODULE": settings.SETTINGS_MODULE},
                stdin=subprocess.PIPE,
            )
            return self._process
