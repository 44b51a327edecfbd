"""Serial numbers that a notice names, each answering for one serial: yes, no, or cannot tell.

All codes are keys: capital letters and digits only. A pattern says no only where the serial is
built as the notice's own serials are, letter for letter and digit for digit: “120500” may be a
CV120500 typed without its letters, and a no lets a machine be sold.
"""

import re
from dataclasses import dataclass

RUNS = re.compile(r"\d+|\D+")
LABELS = ("SN", "SER", "NO")  # what is typed before a serial and is no part of it


@dataclass(frozen=True)
class Exactly:
    serial: str

    def holds(self, serial: str) -> bool | None:
        return serial == self.serial or _no_if_alike(serial, self.serial)


@dataclass(frozen=True)
class Begins:
    prefix: str

    def holds(self, serial: str) -> bool | None:
        begin = serial[: len(self.prefix)]
        return begin == self.prefix or _no_if_alike(begin, self.prefix)


@dataclass(frozen=True)
class Ends:
    suffix: str

    def holds(self, serial: str) -> bool | None:
        end = serial[-len(self.suffix) :]
        return end == self.suffix or _no_if_alike(end, self.suffix)


@dataclass(frozen=True)
class Between:
    """From ``low`` through ``high``; ``leading`` when these two are beginnings of serials."""

    low: str
    high: str
    leading: bool = False

    def holds(self, serial: str) -> bool | None:
        shortest, longest = sorted((len(self.low), len(self.high)))
        if self.leading and shortest == longest < len(serial):
            serial = serial[:longest]
        if not shortest <= len(serial) <= longest:
            return None
        if shortest == longest:
            held = self.low <= serial <= self.high
            return held or _no_if_alike(serial, self.low, self.high)
        low, high, asked = _runs(self.low), _runs(self.high), _runs(serial)
        if not _kinds(low) == _kinds(high) == _kinds(asked):
            return None
        return low <= asked <= high or (None if _has_label(serial, self.low) else False)


@dataclass(frozen=True)
class Coded:
    """A code inside the serial, as the year and week of making, from ``low`` through ``high``.

    ``start`` counts characters from 0, or from the end when negative; without it the code is
    looked for everywhere in the serial. ``swapped`` says that the year comes last. Where nothing
    says that the code stands in the serial at all (``inside``), the serial cannot tell.
    """

    low: str
    high: str
    start: int | None = None
    swapped: bool = False
    inside: bool = True

    def holds(self, serial: str) -> bool | None:
        if not self.inside:
            return None
        width = len(self.low)
        if self.start is None:
            windows = [serial[at : at + width] for at in range(len(serial) - width + 1)]
            return any(map(self._is_within, windows))
        at = self.start if self.start >= 0 else len(serial) + self.start
        code = serial[max(at, 0) : max(at, 0) + width]
        if at < 0 or len(code) < width or code.isdigit() != self.low.isdigit():
            return None
        return self._is_within(code)

    def _is_within(self, code: str) -> bool:
        if code.isdigit() != self.low.isdigit():
            return False
        return self._order(self.low) <= self._order(code) <= self._order(self.high)

    def _order(self, code: str) -> str:
        half = len(code) // 2
        return code[half:] + code[:half] if self.swapped else code


Pattern = Exactly | Begins | Ends | Between | Coded


def verdict(patterns, serial: str) -> bool | None:
    """Yes when any pattern says so; no only when all do. Nothing known of it: cannot tell."""
    if not serial or not patterns:
        return None
    said = [pattern.holds(serial) for pattern in patterns]
    if True in said:
        return True
    return None if None in said else False


def _no_if_alike(serial: str, *codes: str) -> bool | None:
    """No, where the serial is built as every one of the notice's codes is; else: cannot tell."""
    alike = all(_shape(serial) == _shape(code) for code in codes)
    return False if alike and not _has_label(serial, *codes) else None


def _shape(code: str) -> str:
    return "".join("9" if letter.isdigit() else "A" for letter in code)


def _has_label(serial: str, *codes: str) -> bool:
    return serial.startswith(LABELS) and not any(code.startswith(LABELS) for code in codes)


def _runs(code: str) -> list[str | int]:
    return [int(run) if run.isdigit() and run.isascii() else run for run in RUNS.findall(code)]


def _kinds(runs: list[str | int]) -> list[int]:
    """How a serial is built, its figures of any width: so many letters, or 0 for a figure."""
    return [len(run) if isinstance(run, str) else 0 for run in runs]
