"""Work shared out over a few threads: numpy lets go of the interpreter while it reckons."""

from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from typing import TypeVar

WORKERS = 2
Item, Done = TypeVar("Item"), TypeVar("Done")


def side_by_side(work: Callable[[Item], Done], items: Sequence[Item]) -> list[Done]:
    """``work`` done on every item, in the order of the items; one item alone starts no thread."""
    if len(items) < 2:
        return [work(item) for item in items]
    with ThreadPoolExecutor(WORKERS) as pool:
        return list(pool.map(work, items))
