"""What a maker's confirmed serials say of a new one."""

import math
import re
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from units.catalogue.domain.keys import match_key
from units.plates.domain.groups import groups_of, turns
from units.plates.domain.knowledge import Knowledge, shape_of

STRANGE = -2.0  # a shape that this maker's serials have not had, and less the more are known
MOST_TOLD = 20
TURN = 1.2  # letters and digits mostly stand together: each turn between them makes it rarer
ZERO_FIRST = 3.0  # and hardly any begins with a zero before a letter
# Makers leave out of their serials the letters that look like figures; ISO 3779 forbids the three
# in the numbers of road vehicles.
SHUNNED = set("IOQ")
SHUNNED_LETTER = -1.0  # a logarithm, beside what a maker's own letters tell
# Of a name: not chosen one by one, and so hardly shunned. Common practice, no published source.
INITIALS, SHUNNED_INITIAL = re.compile("[A-Z]{3,}"), -0.7
ENOUGH = 8
# By trial on the tuning families: the share of shapes met once from which letters and figures are
# mixed, and how many serials count as much as what is known of the two sorts at large.
FREE, FIRM = 0.3, 30
MANY_LETTERS = 30
LEAST_GONE, MOST_GONE = 2, 5


class Serials:
    """The serials that one maker's confirmed plates bore: their shapes and characters.

    Of a maker that nobody could name, those of all makers.
    """

    def __init__(self, knowledge: Knowledge, maker: str):
        keys = [match_key(serial) for name, serial in knowledge.serials if maker in ("", name)]
        self.shapes = Counter(shape_of(key) for key in keys)
        self._chars = _counted(keys, shape_of)
        self._letters = _chosen_letters(self._chars)
        self._places = _counted(keys, len)
        self._mixed = {length for length in self._places if self._is_mixed(length)}
        self.printed = {
            printed_shape(serial) for name, serial in knowledge.serials if maker in ("", name)
        }

    @property
    def count(self) -> int:
        return self.shapes.total()

    def usual(self, key: str, at: int) -> bool:
        """Whether enough serials of this shape are known, and one has this character here."""
        shape = shape_of(key)
        if self.shapes[shape] < ENOUGH:
            return False
        return key[at].isalpha() or self._chars[shape][at][key[at]] > 0

    def constant(self, key: str, at: int) -> bool:
        """Whether enough serials of this shape are known, all with this character here."""
        shape = shape_of(key)
        return self.shapes[shape] >= ENOUGH and set(self._chars[shape][at]) == {key[at]}

    def unheard_of(self, key: str) -> bool:
        """Whether a letter differs from the one that all serials of this shape have there."""
        return self._strange_letter(key, shape_of(key))

    def may_be_part(self, key: str, whole: str) -> bool:
        """Whether a serial of the known shape ``whole`` may have lost its beginning or end and left
        this key."""
        gone = len(whole) - len(key)
        return LEAST_GONE <= gone <= MOST_GONE and any(
            whole[start:].startswith(shape_of(key)) and not self._strange_letter(key, whole, start)
            for start in (0, gone)
        )

    def nearly(self, key: str) -> bool:
        """Whether a character more or less would make this a serial of a shape known well."""
        shape = shape_of(key)
        return any(
            count >= ENOUGH and abs(len(known) - len(shape)) == 1 and _but_one(known, shape)
            for known, count in self.shapes.items()
        )

    def _strange_letter(self, key: str, whole: str, start: int = 0) -> bool:
        """Whether a letter differs from the one that all serials of a shape have there."""
        return self.shapes[whole] >= ENOUGH and any(
            char.isalpha() and len(place) == 1 and char not in place
            for char, place in zip(key, self._chars[whole][start:], strict=False)
        )

    def resembles(self, key: str) -> bool:
        """Whether the maker mixes letters and figures in serials of this length, and this one has
        what all of those have."""
        return len(key) in self._mixed and all(
            len(place) > 1 or char in place
            for place, char in zip(self._places[len(key)], key, strict=True)
        )

    def _is_mixed(self, length: int) -> bool:
        """Whether most shapes of this length were met only once."""
        counts = [count for shape, count in self.shapes.items() if len(shape) == length]
        return counts.count(1) >= max(ENOUGH, FREE * sum(counts))

    def never_chose(self, letter: str) -> bool:
        """Whether many letters of this maker's serials are known, and none is this one."""
        return self._letters.total() >= MANY_LETTERS and not self._letters[letter]

    def prior(self, serial: str) -> float:
        """How far a serial looks like this maker's, a logarithm; 0 when none is known."""
        key = match_key(serial)
        if self.resembles(key):
            return self._freely(key)
        shape = shape_of(key)
        if shape not in self.shapes:
            told = STRANGE - math.log(1 + min(self.count, MOST_TOLD)) if self.count else 0.0
            zero_first = key[:1] == "0" and key[1:2].isalpha()
            groups = groups_of(serial)
            told -= TURN * sum(map(turns, groups)) + ZERO_FIRST * zero_first
            return told + self._shuns(" ".join(groups))
        prior = math.log((self.shapes[shape] + 0.5) / (self.count + 1))
        for counter, char in zip(self._chars[shape], key, strict=True):
            even = 0.1 if char.isdigit() else 1 / 26
            share = counter[char] / counter.total()
            weight = 0.5 if char.isdigit() else 1.0
            prior += math.log((0.3 * even + 0.7 * max(share, 0.01)) / even) * weight
        return prior

    def _shuns(self, groups: str) -> float:
        """How far the letters that makers shun speak against a serial of these groups, a logarithm
        of at most 0."""
        chosen = SHUNNED.intersection(INITIALS.sub("", groups))
        initials = any(map(SHUNNED.intersection, INITIALS.findall(groups)))
        return sum(map(self._shunned, chosen)) + SHUNNED_INITIAL * initials

    def _shunned(self, char: str) -> float:
        """How far this letter speaks against a serial, a logarithm of at most 0: the more, the more
        letters of the maker's serials are known and the fewer of them are this one."""
        share = (self._letters[char] + 1) * 26 / (self._letters.total() + 26)
        return min(0.0, SHUNNED_LETTER + math.log(share))

    def _freely(self, key: str) -> float:
        """The prior of a key that ``resembles`` those of a maker who mixes letters and figures: how
        often each character stands in its place, beside how often any of its sort does."""
        told = 0.0
        for place, char in zip(self._places[len(key)], key, strict=True):
            figures = sum(count for other, count in place.items() if other.isdigit())
            sort = figures if char.isdigit() else place.total() - figures
            even = (sort + 0.5) / (place.total() + 1) / (10 if char.isdigit() else 26)
            if char.isalpha() and not self._letters[char]:
                even *= self._may_use()
            told += math.log(36 * (place[char] + FIRM * even) / (place.total() + FIRM))
        return told

    def _may_use(self) -> float:
        """How likely it is that the maker uses a letter that none of his serials has: even
        chances, and so many letters that were not it."""
        return 1 / (1 + math.exp(min(self._letters.total() / 26, 50)))


def _but_one(one: str, two: str) -> bool:
    """Whether the longer shape is the shorter one and a character more."""
    short, long = sorted((one, two), key=len)
    return any(long[:at] + long[at + 1 :] == short for at in range(len(long)))


def printed_shape(serial: str) -> str:
    """The shape of a serial as it is printed, each mark or space in it as ``-``."""
    return re.sub(r"[^A9]+", "-", shape_of(serial.strip()))


def _counted(keys: Sequence[str], sort: Callable[[str], Any]) -> dict[Any, list[Counter]]:
    """Of the keys of each sort: how often each character stands in each place."""
    found: dict[Any, list[Counter]] = {}
    for key in keys:
        places = found.setdefault(sort(key), [Counter() for _char in key])
        for place, char in zip(places, key, strict=True):
            place[char] += 1
    return found


def _chosen_letters(chars: Mapping[str, Sequence[Counter]]) -> Counter:
    """How often each letter was chosen for a serial: one that never changes was chosen once."""
    letters: Counter = Counter()
    for place in (place for shape in chars.values() for place in shape):
        letters.update(place if len(place) > 1 else set(place))
    return Counter({char: count for char, count in letters.items() if char.isalpha()})
