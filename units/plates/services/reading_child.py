"""The reader in a process of its own, watched: a photo may cost it its life, never the worker's.

A plain subprocess rather than multiprocessing: that would bring Django and the worker's main module
into the reader, and would have it answer in pickles.
"""

import subprocess
import sys
import time
from contextlib import suppress
from functools import cache
from queue import Empty, SimpleQueue
from threading import Thread

import psutil
from django.conf import settings

from units.plates.domain.knowledge import Knowledge
from units.plates.domain.proposal import Proposal
from units.plates.domain.reading_loop import as_head
from units.plates.domain.wire import read_frame, write_frame
from units.plates.models import PlateReading

LOOP = "units.plates.domain.reading_loop"
WARM_SECONDS = 120  # a slow disk may take its time over the networks
BEAT = 0.05  # seconds between two looks at the memory
# Reading is hard work; the web process comes first: so many steps behind this one, of 19 at most.
STEPS_BEHIND, LAST = 5, 19

Trouble = PlateReading.Trouble
Frame = tuple[dict, bytes]


class NotReadError(Exception):
    """A photo that could not be read; ``trouble`` says why, as PlateReading.Trouble."""

    def __init__(self, trouble: str):
        super().__init__(str(Trouble(trouble).label))
        self.trouble = trouble


class PutOffError(Exception):
    """The reading was given up because the worker stops."""


class ReaderChild:
    """One reader, warm and used again for each photo; a new one after each that failed.

    ``seconds`` and ``memory`` (bytes) bound one photo. Not for two threads at once, but ``stop``
    may be called from any, and from a signal.
    """

    def __init__(self, *, reader: str, seconds: float, memory: int):
        self._reader, self._seconds, self._memory = reader, seconds, memory
        self._process: subprocess.Popen | None = None
        self._frames: SimpleQueue[Frame | None] = SimpleQueue()
        self._warm = False
        self._stopping = False

    @property
    def pid(self) -> int | None:
        return self._process.pid if self._process else None

    def start(self) -> None:
        """Begin to warm a reader up, unless one stands; does not wait for it."""
        if self._process and self._process.poll() is None:
            return
        self.close()
        self._process = subprocess.Popen(  # noqa: S603 - our own module and setting
            [sys.executable, "-m", LOOP, self._reader],
            cwd=settings.BASE_DIR,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
        )
        self._frames, self._warm = SimpleQueue(), False
        Thread(target=_listen, args=(self._process, self._frames), daemon=True).start()
        _be_nice(self._process.pid)

    def read(self, photo: bytes, knowledge: Knowledge) -> tuple[Proposal, bytes | None]:
        """What a photo says, and the plate alone as JPEG. Raises NotReadError or PutOffError."""
        try:
            self.start()
            self._wait_until_warm()
            write_frame(self._process.stdin, as_head(knowledge), photo)
            head, plate = self._next_frame(self._seconds)
        except OSError as error:
            self._begin_anew()
            raise NotReadError(Trouble.DIED) from error
        except NotReadError:
            self._begin_anew()
            raise
        if "unreadable" in head:
            raise NotReadError(Trouble.UNREADABLE)
        return Proposal.from_json(head["proposal"]), plate or None

    def stop(self) -> None:
        """Give up what is being read, now and from now on."""
        self._stopping = True

    def close(self) -> None:
        """End the reader and wait until it is gone."""
        process, self._process = self._process, None
        if process is None:
            return
        process.kill()
        process.wait()
        with suppress(OSError):  # half a photo may be left to be written
            process.stdin.close()

    def _begin_anew(self) -> None:
        self.close()
        self.start()

    def _wait_until_warm(self) -> None:
        if not self._warm:
            self._next_frame(WARM_SECONDS)
            self._warm = True

    def _next_frame(self, seconds: float) -> Frame:
        until = time.monotonic() + seconds
        while True:
            try:
                frame = self._frames.get(timeout=BEAT)
            except Empty:
                self._refuse_excess(until)
                continue
            if frame is None:
                raise NotReadError(Trouble.DIED)
            return frame

    def _refuse_excess(self, until: float) -> None:
        if self._stopping:
            self.close()
            raise PutOffError
        if self._memory_used() > self._memory:
            raise NotReadError(Trouble.TOO_LARGE)
        if time.monotonic() > until:
            raise NotReadError(Trouble.TOO_LONG)

    def _memory_used(self) -> int:
        try:
            return psutil.Process(self._process.pid).memory_info().rss
        except psutil.Error:  # gone: the next frame says so
            return 0


@cache
def reader_child() -> ReaderChild:
    """The one reader of this process, bounded as the settings say."""
    return ReaderChild(
        reader=settings.PLATE_READER,
        seconds=settings.PLATE_SECONDS,
        memory=settings.PLATE_MEMORY,
    )


def _listen(process: subprocess.Popen, frames: SimpleQueue) -> None:
    """Hand over what the reader answers, and None when it has ended."""
    with process.stdout, suppress(ValueError):  # no JSON: as good as gone
        while (frame := read_frame(process.stdout)) is not None:
            frames.put(frame)
    frames.put(None)


def _be_nice(pid: int) -> None:
    with suppress(psutil.Error):  # gone already, or not allowed: it reads as it is
        psutil.Process(pid).nice(_behind())


def _behind() -> int:
    if psutil.WINDOWS:
        return psutil.BELOW_NORMAL_PRIORITY_CLASS
    return min(psutil.Process().nice() + STEPS_BEHIND, LAST)
