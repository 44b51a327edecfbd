"""Which serial number a plate bears."""

import math
import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from rapidfuzz.distance import Levenshtein

from units.catalogue.domain.keys import match_key
from units.plates.domain.beside import RIGHT
from units.plates.domain.evidence import (
    Hypothesis,
    Span,
    edge_twins,
    ranked,
    to_shape,
    turns,
    weigh,
    with_changes,
)
from units.plates.domain.knowledge import Knowledge, shape_of
from units.plates.domain.likeness import Alike
from units.plates.domain.snippets import INLINE
from units.plates.domain.supply import says_date, says_supply

SHORTEST, LONGEST = 5, 24
STRANGE = -2.0  # a shape that this maker's serials have not had, and less the more are known
MOST_TOLD = 20
TURN = 1.2  # letters and digits mostly stand together: each turn between them makes it rarer
ZERO_FIRST = 3.0  # and hardly any begins with a zero before a letter
# Makers leave out of their serials the letters that look like figures; ISO 3779 forbids the three
# in the numbers of road vehicles.
SHUNNED = set("IOQ")
SHUNNED_LETTER = -1.0  # a logarithm, beside what a maker's own letters tell
ENOUGH = 8
MANY_LETTERS = 30
LEAST_GONE, MOST_GONE = 2, 5
LIKELY_SWAP = 0.02


class Serials:
    """The serials that one maker's confirmed plates bore: their shapes and characters.

    Of a maker that nobody could name, those of all makers.
    """

    def __init__(self, knowledge: Knowledge, maker: str):
        keys = [match_key(serial) for name, serial in knowledge.serials if maker in ("", name)]
        self.shapes = Counter(shape_of(key) for key in keys)
        self._chars: dict[str, list[Counter]] = {}
        for key in keys:
            places = self._chars.setdefault(shape_of(key), [Counter() for _char in key])
            for place, char in zip(places, key, strict=True):
                place[char] += 1
        self._letters = _chosen_letters(self._chars)
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
        shape = shape_of(key)
        return self.shapes[shape] >= ENOUGH and any(
            char.isalpha() and len(place) == 1 and char not in place
            for place, char in zip(self._chars[shape], key, strict=True)
        )

    def never_chose(self, letter: str) -> bool:
        """Whether many letters of this maker's serials are known, and none is this one."""
        return self._letters.total() >= MANY_LETTERS and not self._letters[letter]

    def prior(self, key: str) -> float:
        """How far a serial looks like this maker's, a logarithm; 0 when none is known."""
        shape = shape_of(key)
        if shape not in self.shapes:
            told = STRANGE - math.log(1 + min(self.count, MOST_TOLD)) if self.count else 0.0
            zero_first = key[:1] == "0" and key[1:2].isalpha()
            told -= TURN * turns(key) + ZERO_FIRST * zero_first
            return told + sum(self._shunned(char) for char in SHUNNED.intersection(key))
        prior = math.log((self.shapes[shape] + 0.5) / (self.count + 1))
        for counter, char in zip(self._chars[shape], key, strict=True):
            even = 0.1 if char.isdigit() else 1 / 26
            share = counter[char] / counter.total()
            weight = 0.5 if char.isdigit() else 1.0
            prior += math.log((0.3 * even + 0.7 * max(share, 0.01)) / even) * weight
        return prior

    def _shunned(self, char: str) -> float:
        """How far this letter speaks against a serial, a logarithm of at most 0: the more, the more
        letters of the maker's serials are known and the fewer of them are this one."""
        share = (self._letters[char] + 1) * 26 / (self._letters.total() + 26)
        return min(0.0, SHUNNED_LETTER + math.log(share))


def which_serial(
    spans: Sequence[Span],
    coded: Sequence[Span],
    serials: Serials,
    alike: Alike,
    taken: set[str],
) -> list[Hypothesis]:
    """What the serial may be, the likeliest first. ``taken``: match keys of model and makers,
    which are no serials."""
    fitting = [span for span in spans if span.names in ("", "serial") and _may_be(span, taken)]
    usable = [span for span in fitting if span.names or _plausible(span, serials)]
    if not usable:
        usable = [span for span in fitting if len(span.key) >= 6 and _digits(span.key) >= 4]
    texts = dict.fromkeys(text for span in usable for text in _texts(span, serials, alike))
    for text in _from_codes(usable, coded, serials, taken):
        texts.setdefault(text)
    hypotheses = [Hypothesis(text, prior=serials.prior(match_key(text))) for text in texts]
    for one in hypotheses:
        one.known = shape_of(one.key) in serials.shapes
        weigh(one, usable, coded, "serial", alike)
        if one.span is None and one.coded:
            one.span = next(span for span in coded if span.key == one.key)
    return ranked(hypotheses)


def _may_be(span: Span, taken: set[str]) -> bool:
    """Long enough, with digits, and neither the model nor a supply nor a date."""
    if not SHORTEST <= len(span.key) <= LONGEST or span.key in taken:
        return False
    if says_supply(span.text) or (span.relation != INLINE and says_date(span.text)):
        return False
    # A few serials are letters only: then they must stand right beside their label, as one word.
    named = span.relation in (INLINE, RIGHT) and len(span.key) >= 6
    word = span.text.isupper() and " " not in span.text
    return _digits(span.key) >= 2 or (named and word)


def _digits(key: str) -> int:
    return sum(char.isdigit() for char in key)


def _plausible(span: Span, serials: Serials) -> bool:
    """A word without a label counts if it looks like one of the maker's serials."""
    return len(span.key) >= 6 and _fold(shape_of(span.key)) in {
        _fold(shape) for shape in serials.shapes
    }


def _fold(shape: str) -> str:
    return shape.replace("A", "9")


def _texts(span: Span, serials: Serials, alike: Alike) -> Iterator[str]:
    """The text as read, and as it would be if doubtful characters were their look-alikes."""
    yield span.text
    for shape in serials.shapes:
        if len(shape) == len(span.key) and shape != shape_of(span.key):
            repaired = to_shape(span, shape, alike)
            if repaired:
                yield repaired
    doubtful = []
    for at, sign in enumerate(span.signs):
        for other in alike.swaps(sign.char)[:3]:
            weight = max(sign.weight(other), (1 - sign.weight(sign.char)) * 0.3)
            if weight > LIKELY_SWAP:
                doubtful.append((weight, at, other))
    for _weight, at, other in sorted(doubtful, reverse=True)[:6]:
        yield with_changes(span.text, {at: other})


def _from_codes(usable, coded, serials: Serials, taken: set[str]) -> Iterator[str]:
    """Symbols that repeat a printed serial, or that look like one of the maker's."""
    for span in coded:
        if not SHORTEST <= len(span.key) <= LONGEST or span.key in taken:
            continue
        if shape_of(span.key) in serials.shapes or nearest(span.key, usable) <= 3:
            yield span.text


def nearest(key: str, spans: Sequence[Span]) -> int:
    """The fewest characters in which a text differs from what is printed beside "serial"."""
    distances = [Levenshtein.distance(key, span.key) for span in spans if span.names == "serial"]
    return min(distances, default=99)


def contradicted(best: Hypothesis, coded: Sequence[Span]) -> bool:
    """A symbol that nearly says the same, but not quite, or names another one as the serial: one
    of the two is wrong."""
    return not best.coded and any(
        span.names == "serial"
        or (
            0 < Levenshtein.distance(best.key, span.key, score_cutoff=3) <= 3
            and abs(len(span.key) - len(best.key)) <= 1
            and len(best.key) >= 6
        )
        for span in coded
    )


def unsettled(best: Hypothesis, serials: Serials, alike: Alike) -> float:
    """The largest doubt between look-alikes that neither shape nor symbol settles, 0 to 1."""
    if best.coded or best.span is None or len(best.span.signs) != len(best.key):
        return 0.0
    doubt = 0.0
    for at, (sign, char) in enumerate(zip(best.span.signs, best.key, strict=True)):
        if serials.constant(best.key, at):
            continue
        for other in alike.swaps(char):
            swapped = best.key[:at] + other + best.key[at + 1 :]
            if serials.count and shape_of(swapped) not in serials.shapes and best.known:
                continue
            weight = sign.weight(other) + 0.1 * alike.share(char, other) * (sign.char != char)
            doubt = max(doubt, weight)
    return doubt


def ambiguous(best: Hypothesis, serials: Serials) -> bool:
    """A 0 or O that neither its breadth, a symbol nor the maker's other serials tell apart."""
    return not best.coded and any(
        not serials.usual(best.key, at)
        and not settled(best, at)
        and not (best.key[at] == "0" and serials.never_chose("O"))
        for at in edge_twins(best.key)
    )


def settled(best: Hypothesis, at: int) -> bool:
    """Whether the print that fits best shows by its breadth that this character is right."""
    signs = best.span.signs if best.span else ()
    return len(signs) == len(best.key) and signs[at].settled and signs[at].char == best.key[at]


def cut_short(best: Hypothesis, serials: Serials) -> bool:
    """Shaped like the beginning or the end of the maker's serials, its marks where theirs are: the
    rest is worn, perhaps."""
    if best.coded or best.known:
        return False
    shape = printed_shape(best.text)
    marked = shape != shape_of(best.key)
    return any(
        LEAST_GONE <= len(known) - len(shape) <= MOST_GONE
        and (known.startswith(shape) or known.endswith(shape))
        for known in (serials.printed if marked else serials.shapes)
    )


def printed_shape(serial: str) -> str:
    """The shape of a serial as it is printed, each mark or space in it as ``-``."""
    return re.sub(r"[^A9]+", "-", shape_of(serial.strip()))


def _chosen_letters(chars: Mapping[str, Sequence[Counter]]) -> Counter:
    """How often each letter was chosen for a serial: one that never changes was chosen once."""
    letters: Counter = Counter()
    for place in (place for shape in chars.values() for place in shape):
        letters.update(place if len(place) > 1 else set(place))
    return Counter({char: count for char, count in letters.items() if char.isalpha()})
