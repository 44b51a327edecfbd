"""Here the worker cannot run: its database is not migrated, so that it ends at once each time."""

import re
from queue import SimpleQueue

from shop.front.background import Background


def test_worker_that_ends_is_started_again_after_a_growing_pause():
    said = SimpleQueue()
    with Background(said.put):
        pauses = [re.search(r"\((\d+)\).*in (\d+) s", said.get(timeout=60)) for _ in range(3)]
    assert [match.groups() for match in pauses] == [("1", "1"), ("1", "2"), ("1", "4")]


def test_it_ends_amid_a_pause_without_waiting_for_it():
    said = SimpleQueue()
    with Background(said.put) as background:
        said.get(timeout=60)
    assert background._process.poll() == 1
    assert not background._watcher.is_alive()
