"""The words on a plate that say what stands beside them."""

import re
import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from rapidfuzz.distance import Levenshtein

from units.catalogue.domain.keys import match_key

TABLE = Path(__file__).parents[3] / "fixtures/reference/plates/labels.toml"
# One letter for each family of characters that bad print makes into one another.
FOLD = str.maketrans("01L582", "OIISBZ")
FUZZY_FROM = 6  # shorter words must stand there exactly
JOINED = re.compile(r"[-./]?\w")  # the word goes on, with a mark in it or not
NUMBER_SHORT = re.compile(r"N[OR]\.", re.I)  # "No.": the dot shortens the word, it joins nothing
GAP = re.compile(r"[\s:.-]+")
# In "S/NKT-201" a space was not read; but "S/NO", "S/NR", "S/NUMBER" and the like go on as labels.
RUN_ON = re.compile(r"(?![ORUBA])\w*\W?\w*\d", re.I)
SHORT = 3  # words up to this long stand alone: "SN" is not the start of "SNAP"


@dataclass(frozen=True)
class Label:
    """A label found in a line: what it names and the characters it covers, from and up to."""

    names: str
    start: int
    end: int


def fold(text: str) -> str:
    """Letters and digits of a text, those that look alike as one."""
    return match_key(text).translate(FOLD)


@cache
def words() -> tuple[tuple[str, str], ...]:
    """All label words, folded, with what they name; the longest first."""
    table = tomllib.loads(TABLE.read_text(encoding="utf-8"))
    pairs = {fold(word): names for names, entry in table.items() for word in entry["words"]}
    return tuple(sorted(pairs.items(), key=lambda pair: -len(pair[0])))


def named(word: str) -> str:
    """What a label says stands beside it, "" for a word that is none."""
    return dict(words()).get(fold(word), "")


def find_labels(text: str) -> list[Label]:
    """The labels of one line, from left to right; neighbours that name one thing are one."""
    folded, places = _with_places(text)
    found: list[Label] = []
    at = 0
    while at < len(folded):
        label = _label_at(text, folded, places, at) if _starts_word(text, places[at]) else None
        if label is None:
            at += 1
            continue
        found.append(label)
        at = next((i for i in range(at, len(places)) if places[i] >= label.end), len(folded))
    return _joined(text, found)


def _with_places(text: str) -> tuple[str, list[int]]:
    folded, places = [], []
    for index, char in enumerate(text):
        for key in fold(char):
            folded.append(key)
            places.append(index)
    return "".join(folded), places


def _starts_word(text: str, index: int) -> bool:
    if index == 0:
        return True
    before, here = text[index - 1], text[index]
    # A lower-case letter before an upper-case one: a space that was not read.
    return not before.isalnum() or (before.islower() and here.isupper()) or not here.isascii()


def _label_at(text: str, folded: str, places: Sequence[int], at: int) -> Label | None:
    """The longest label that begins here. One that ends with a word goes before one that does not:
    "MODEL OM95" begins with "MODEL", although "MODELO" is one too."""
    rest = folded[at:]
    found = [
        (length, match is _exactly, Label(names, places[at], end))
        for match in (_exactly, _nearly)
        for word, names in words()
        if (length := match(rest, word))
        and _ends_word(text, word, places[at], end := places[at + length - 1] + 1, match)
    ]
    whole = [one for one in found if not _is_joined(text, one[2].end)]
    return max(whole or found, key=lambda one: one[:2])[2] if found else None


def _is_joined(text: str, end: int) -> bool:
    return bool(JOINED.match(text, end)) and not NUMBER_SHORT.match(text, end - 2)


def _exactly(rest: str, word: str) -> int:
    """How many characters of ``rest`` are the word, 0 if it is not there."""
    return len(word) if rest.startswith(word) else 0


def _nearly(rest: str, word: str) -> int:
    if len(word) < FUZZY_FROM or not word.isascii():
        return 0
    for length in (len(word), len(word) - 1, len(word) + 1):
        piece = rest[:length]
        if len(piece) == length and Levenshtein.distance(piece, word, score_cutoff=1) <= 1:
            return length
    return 0


def _ends_word(text: str, word: str, start: int, end: int, match) -> bool:
    following = text[end : end + 1]
    goes_on = following.isalnum() and following.isascii()
    if _takes_a_letter(text[start:end]):
        return False
    if match is _nearly:
        # Only a word for itself may be misread, not across a mark that parts two words, and no
        # short one after another: "MODEL KR" is no "MODEL NR".
        last = text[start:end].split()[-1]
        short = len(last) <= SHORT and " " in text[start:end] and not word.endswith(fold(last))
        return not goes_on and not short and not set("/:|") & set(text[start:end])
    if "/" in text[start:end] and goes_on:
        return len(word) < SHORT and bool(RUN_ON.match(text, end))
    if len(word) <= SHORT and word.isascii() and goes_on:
        return False
    # "MODELS" or "PARTY": the word goes on as a word, not as a number.
    rest = text[end:].split(maxsplit=1)[0] if goes_on else ""
    return not word.isascii() or not following.isalpha() or any(c.isdigit() for c in rest)


def _takes_a_letter(covered: str) -> bool:
    """Whether a label takes the first letter of a value: "MODEL E" of "MODEL E 330" is no "MODELE".

    In print spaced out by letters every word is one letter long.
    """
    first, *others = filter(None, GAP.split(covered))
    return bool(others) and len(first) > 1 and len(others[-1]) == 1 and others[-1].isalpha()


def _joined(text: str, labels: list[Label]) -> list[Label]:
    joined: list[Label] = []
    for label in labels:
        last = joined[-1] if joined else None
        if last and last.names == label.names and not match_key(text[last.end : label.start]):
            joined[-1] = Label(last.names, last.start, label.end)
        else:
            joined.append(label)
    return joined
