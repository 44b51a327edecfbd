"""What the pages of a day need, learnt beside them rather than by the first who asks."""

from collections.abc import Callable
from datetime import date
from threading import Event, Thread

from django.db import DatabaseError, connection
from django.utils import timezone
from django.utils.translation import gettext as _

from parts.support.selectors import keep_ready

PAUSE = 60  # seconds; also the most for which a new day or a new table of facts waits
PATIENCE = 10  # seconds that are left to what it is just learning


class Ready:
    """A context in which this process keeps what its pages need, by what ``keep`` does for a day.

    ``say`` is told, in a sentence, of trouble with the database; it is tried again.
    """

    def __init__(
        self,
        say: Callable[[str], object],
        keep: Callable[[date], object] = keep_ready,
        pause: float = PAUSE,
    ):
        self._say, self._keep, self._pause = say, keep, pause
        self._stopping = Event()
        self._thread = Thread(target=self._run, daemon=True)

    def __enter__(self):
        self._thread.start()
        return self

    def __exit__(self, *_error):
        self._stopping.set()
        self._thread.join(PATIENCE)

    def _run(self) -> None:
        while not self._stopping.is_set():
            try:
                self._keep(timezone.localdate())
            except DatabaseError as error:
                self._say(_("The day's odds could not be learnt yet: %(why)s") % {"why": error})
            finally:
                connection.close()
            self._stopping.wait(self._pause)
