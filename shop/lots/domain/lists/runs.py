"""Serial numbers that a seller wrote as a run, ``RT-1001 to RT-1010``, or parted by a slash.

A run is only believed where the count that stands beside it agrees: ``H7250-20114`` holds a dash as
well.
"""

import re
from collections.abc import Iterator, Sequence

JOINTS = re.compile(r"\s*(?:\.{2,}|…|–|—|-|\b(?:to|thru|through|until)\b)\s*", re.I)
LOUD = re.compile(r"\.{2,}|…|\b(?:to|thru|through|until)\b|\s(?:-|–|—)\s", re.I)
NUMBERED = re.compile(r"(.*?)(\d+)")
MOST = 2000


def of_count(serials: Sequence[str], count: int) -> tuple[str, ...]:
    """The serials one by one where runs and slashes make ``count`` of them, else as they are."""
    if len(serials) == count:
        return tuple(serials)
    for ways in (_runs, _slashed):
        spread = [one for serial in serials for one in ways(serial, count)]
        if len(spread) == count:
            return tuple(spread)
    return tuple(serials)


def spoken_run(serials: Sequence[str]) -> tuple[str, ...]:
    """The serials of a lone run that words, dots or a dash amid blanks make plain, else nothing."""
    if len(serials) != 1 or not LOUD.search(serials[0]):
        return ()
    return next(_all_runs(serials[0]), ())


def _runs(serial: str, count: int) -> tuple[str, ...]:
    """The longest run that a serial can be read as and that is no longer than the count."""
    runs = [run for run in _all_runs(serial) if len(run) <= count]
    return max(runs, key=len, default=(serial,))


def _all_runs(serial: str) -> Iterator[tuple[str, ...]]:
    for joint in JOINTS.finditer(serial):
        first = NUMBERED.fullmatch(serial[: joint.start()])
        last = NUMBERED.fullmatch(serial[joint.end() :])
        if first and last and (run := _between(first, last)):
            yield run


def _between(first: re.Match, last: re.Match) -> tuple[str, ...]:
    """From one number to the other. The last may leave out what both have in front: ``1001-10``."""
    prefix, begin = first.groups()
    other, end = last.groups()
    if other and other.casefold() != prefix.casefold():
        return ()
    if not other and len(end) < len(begin):
        end = begin[: len(begin) - len(end)] + end
    if len(end) != len(begin) or not 1 <= int(end) - int(begin) < MOST:
        return ()
    return tuple(f"{prefix}{n:0{len(begin)}d}" for n in range(int(begin), int(end) + 1))


def _slashed(serial: str, count: int) -> tuple[str, ...]:
    """Parts between slashes, if each of them has figures enough to tell a machine by."""
    parts = [part.strip() for part in serial.split("/")]
    told = len(parts) <= count and all(sum(c.isdigit() for c in part) >= 3 for part in parts)
    return tuple(parts) if told else (serial,)
