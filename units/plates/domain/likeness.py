"""How well what was read agrees with what might stand there."""

import math
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

from units.catalogue.domain.keys import match_key
from units.plates.domain.sight.engine import Glyph

TABLE = Path(__file__).parents[3] / "fixtures/reference/plates/alike.toml"
# Natural logarithms of small chances, fitted on photos of the tuning families.
# What a clear reading still leaves of the table's share: much where print draws both the same.
CLEAR, CLEAR_TWINS = 0.03, 0.15
TWINS = {"0": "O", "O": "0"}  # what many typefaces draw the same
FLOOR = 2e-6  # a clear character is another one altogether
ADDED = 4e-4  # a character was read where there is none
AGAIN = 0.2  # share of its cost that a swap keeps when the same one was made before
MISSED = 1e-3  # a character that is there was not read
TRUST = 20  # corrections of one kind that count as much as the table


@cache
def _table() -> dict[tuple[str, str], float]:
    pairs = tomllib.loads(TABLE.read_text(encoding="utf-8"))["pairs"]
    return {pair: share for a, b, share in pairs for pair in ((a, b), (b, a))}


@cache
def _slips() -> dict[tuple[str, str], float]:
    slips = tomllib.loads(TABLE.read_text(encoding="utf-8"))["slips"]
    return {(true, read): share for true, read, share in slips}


@dataclass(frozen=True)
class Alike:
    """How readily characters are taken for one another, with the shop's own corrections."""

    misread: Mapping[tuple[str, str], int] = field(default_factory=dict)

    def share(self, read: str, true: str) -> float:
        """The share of readings ``read`` that should have been ``true``, roughly."""
        return _table().get((read, true), 0.0) + 0.1 * _learned(self.misread.get((read, true), 0))

    def swaps(self, char: str) -> list[str]:
        """What a character is readily taken for, the readiest first."""
        known = {true for read, true in _table() if read == char}
        known |= {true for read, true in self.misread if read == char}
        return sorted(known, key=lambda true: -self.share(char, true))

    def slip(self, sign: "Sign", true: str, at: int) -> float:
        """The chance of reading ``sign`` clearly where the key ``true`` has its look-alike at
        ``at``: a letter beside a figure, or a figure with nothing but letters beside it."""
        if sign.settled:
            return 0.0
        beside = [one.isdigit() for one in true[max(0, at - 1) : at] + true[at + 1 : at + 2]]
        other = not any(beside) if true[at].isdigit() else any(beside)
        return _slips().get((true[at], sign.char), 0.0) * other


def _learned(count: int) -> float:
    return count / (count + TRUST)


@dataclass(frozen=True)
class Sign:
    """One letter or digit as read, in upper case, and the weights of what it could be."""

    char: str
    weights: Mapping[str, float]
    nothing: float = 0.0
    at: float = 0.0
    settled: bool = False  # a measure of the print tells it from its look-alike

    def weight(self, char: str) -> float:
        return self.weights.get(char, 0.0)


def signs_of(glyphs: Sequence[Glyph], places: Sequence[float] = ()) -> tuple[Sign, ...]:
    """The letters and digits of a piece of print; spaces and marks fall away."""
    found = []
    for index, glyph in enumerate(glyphs):
        char = match_key(glyph.char)
        if len(char) != 1:
            continue
        weights: dict[str, float] = {}
        for other, weight in ((glyph.char, glyph.weight), *glyph.others):
            key = match_key(other)
            if len(key) == 1:
                weights[key] = weights.get(key, 0.0) + weight
        at = places[index] if places else 0.0
        found.append(Sign(char, weights, glyph.nothing, at, glyph.settled))
    return tuple(found)


def certain_signs(text: str) -> tuple[Sign, ...]:
    """The signs of a text that was not read by eye: a barcode's."""
    return tuple(Sign(char, {char: 1.0}) for char in match_key(text))


def likelihood(signs: Sequence[Sign], true: str, alike: Alike) -> float:
    """Logarithm of the chance of reading ``signs`` when the match key ``true`` stands there.

    A shortest path over matched, added and missed characters (an edit distance with weights).
    """
    path = _best_path(signs, true, alike)
    return max(path, _side_by_side(signs, true, alike)) if len(signs) == len(true) else path


def _side_by_side(signs: Sequence[Sign], true: str, alike: Alike) -> float:
    """Every character against its own: one typeface makes the same two alike each time, so that
    only the first of several equal swaps counts in full."""
    total, swapped = 0.0, set()
    for at, (sign, char) in enumerate(zip(signs, true, strict=True)):
        chance = math.log(max(_chance(sign, char, alike), alike.slip(sign, true, at)))
        pair = (sign.char, char)
        if sign.char != char and alike.share(*pair) and pair in swapped:
            chance *= AGAIN
        swapped.add(pair)
        total += chance
    return total


def _best_path(signs: Sequence[Sign], true: str, alike: Alike) -> float:
    row = [at * math.log(MISSED) for at in range(len(true) + 1)]
    for sign in signs:
        added = math.log(max(ADDED, sign.nothing * 0.5))
        last, row = row, [row[0] + added]
        for at, char in enumerate(true):
            row.append(
                max(
                    last[at] + math.log(_chance(sign, char, alike)),
                    last[at + 1] + added,
                    row[at] + math.log(MISSED),
                )
            )
    return row[-1]


def _chance(sign: Sign, char: str, alike: Alike) -> float:
    if char == sign.char:
        return max(sign.weight(char), FLOOR)
    clear = CLEAR_TWINS if TWINS.get(char) == sign.char else CLEAR
    doubt = max(1 - sign.weight(sign.char), clear)
    return max(sign.weight(char), doubt * alike.share(sign.char, char), FLOOR)
