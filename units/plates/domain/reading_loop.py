"""The reader as a process of its own: photos in by standard input, proposals out.

``python -m units.plates.domain.reading_loop READER`` where READER is a module with ``read_photo``,
``warm`` and ``PhotoUnreadableError``. It first says that it is ready, then answers each photo. A
photo can hang it, bloat it or end it; whoever started it watches for that. It ends when its
standard input is closed, even amid a photo.
"""

import os
import signal
import sys
import traceback
from importlib import import_module
from queue import SimpleQueue
from threading import Thread
from typing import BinaryIO

from units.plates.domain.knowledge import Knowledge
from units.plates.domain.wire import read_frame, write_frame


def as_head(knowledge: Knowledge) -> dict:
    """Knowledge as plain lists for a frame."""
    return {
        "makers": knowledge.makers,
        "models": knowledge.models,
        "serials": knowledge.serials,
        "misread": [[*pair, count] for pair, count in knowledge.misread.items()],
    }


def from_head(head: dict) -> Knowledge:
    """The knowledge that ``as_head`` wrote."""
    return Knowledge(
        makers=tuple(head["makers"]),
        models=tuple((maker, number) for maker, number in head["models"]),
        serials=tuple((maker, serial) for maker, serial in head["serials"]),
        misread={(read, true): count for read, true, count in head["misread"]},
    )


def main(name: str) -> None:
    try:
        _serve(name)
    except BaseException:
        traceback.print_exc()
    finally:
        # At once, without waiting for the thread that listens.
        os._exit(1)


def _serve(name: str) -> None:
    # Ctrl-C in a terminal reaches every process of it; this one is ended by whoever started it.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    answers = _own_output()
    photos: SimpleQueue = SimpleQueue()
    Thread(target=_listen, args=(photos,), daemon=True).start()
    reader = import_module(name)
    reader.warm()
    write_frame(answers, {"ready": True})
    while True:
        head, photo = photos.get()
        write_frame(answers, *_answer(reader, head, photo))


def _own_output() -> BinaryIO:
    """Standard output for the answers alone; what libraries print goes to standard error."""
    own = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)
    return own


def _listen(photos: SimpleQueue) -> None:
    while (frame := read_frame(sys.stdin.buffer)) is not None:
        photos.put(frame)
    os._exit(0)


def _answer(reader, head: dict, photo: bytes) -> tuple[dict, bytes]:
    try:
        proposal, plate = reader.read_photo(photo, from_head(head))
    except reader.PhotoUnreadableError as error:
        return {"unreadable": str(error)}, b""
    return {"proposal": proposal.as_json()}, plate or b""


if __name__ == "__main__":
    main(sys.argv[1])
