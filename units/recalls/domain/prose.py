"""Models and serial ranges out of the words of a notice.

The published data leaves the field for models empty and says in prose what is recalled. What is
read here decides that a machine is *not* meant only where every sentence was understood; the
rest is for a person to read.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from units.catalogue.domain.keys import match_key
from units.recalls.domain.codes import Item, keys_of, listed, runs_of, strong_codes
from units.recalls.domain.serials import Begins, Between, Coded, Ends, Exactly, Pattern

SENTENCE_END = re.compile(
    r"(?i:(?<!\bno)(?<!\bnos)(?<!\binc)(?<!\bco)(?<!\bcorp)(?<!\bltd)(?<!\bu\.s)(?<!\be\.g))"
    r"[.!?]\s+(?=[A-Z“\"])|\n"
)
NEXT_LINE = re.compile(r"\n(?=\W*[A-Z]*-?\d)")  # a list may go on from line to line
TRIGGER = re.compile(
    r"(?P<model>\bmodels?\b(?:\s+(?:numbers?\b|nos?\b\.?|#s?))?)"
    r"|(?P<serial>\bserials?\b(?:\s+(?:numbers?\b|nos?\b\.?|codes?\b|#s?))?|\bS/N\b)"
    r"|(?P<date>\b(?:date|manufactur\w+|production|batch)\s+codes?\b)",
    re.IGNORECASE,
)
OPEN_ENDED = re.compile(
    r"\b(?:all|any|various|several|other|certain|multiple)\s+(?:\w+\s+)?models?\b|\bseries\b",
    re.IGNORECASE,
)
ORDINAL_WORDS = (
    "first 1st", "second 2nd", "third 3rd", "fourth 4th", "fifth 5th", "sixth 6th",
    "seventh 7th", "eighth 8th", "ninth 9th", "tenth 10th",
)  # fmt: skip
ORDINALS = {word: at for at, words in enumerate(ORDINAL_WORDS) for word in words.split()}
COUNTS = {"two": 2, "three": 3, "four": 4, "five": 5, "six": 6}
SIGNS = r"(?:digits?|characters?|numbers?|numerals?|letters?)"
END_PLACE = re.compile(rf"\b(first|last)\s+(\w+)\s+{SIGNS}", re.IGNORECASE)
MIDDLE_PLACE = re.compile(
    rf"\b(\w+)\s*(?:through|thru|to|and|-|–)\s*(\w+)\s+{SIGNS}",
    re.IGNORECASE,
)
YEAR_LAST = re.compile(r"\b(?:WWYY|MMYY)\b")
IN_SERIAL = re.compile(
    r"\b(?:in|within|inside|of)\s+(?:the\s+|each\s+|its\s+)?serial", re.IGNORECASE
)
CODED = re.compile(r"(?i:\bdate code)|YY")
ABOUT_PLACES = re.compile(r"(?i:\bserial|\bdate code)|YY")


@dataclass(frozen=True)
class Place:
    """Where in a serial a code stands: ``start`` as in ``Coded``, and its width."""

    start: int
    width: int


@dataclass(frozen=True)
class Clause:
    """What one sentence names: keys of models (or beginnings of them) and patterns of serials.

    ``unclear_models`` and ``unclear_serials`` say that it names more than was understood.
    """

    sentence: str
    models: tuple[str, ...] = ()
    beginnings: tuple[str, ...] = ()
    serials: tuple[Pattern, ...] = ()
    unclear_models: bool = False
    unclear_serials: bool = False

    @property
    def names_models(self) -> bool:
        return bool(self.models or self.beginnings)

    def names(self, keys: set[str]) -> bool:
        return not keys.isdisjoint(self.models) or any(
            key.startswith(start) for key in keys for start in self.beginnings
        )

    @property
    def patterns(self) -> tuple:
        """What the clause says, without its wording."""
        said = (self.models, self.beginnings, self.serials)
        return (*said, self.unclear_models, self.unclear_serials)


def clauses_in(texts: Sequence[str]) -> tuple[Clause, ...]:
    """The clauses of the sentences that speak of models, serials or date codes."""
    spoken = [sentence for text in texts for sentence in sentences(text)]
    coding = _coding(spoken)
    telling = [sentence for sentence in spoken if TRIGGER.search(sentence)]
    found = tuple(
        clause
        for sentence in telling
        for clause in _clauses(sentence, coding)
        if any(clause.patterns)
    )
    known = {key for clause in found for key in clause.models}
    loose = [one for one in spoken if one not in telling] + [_lead(one) for one in telling]
    return tuple(_of_some(clause, known) for clause in found) + _strays(loose, known)


def sentences(text: str) -> Iterator[str]:
    for sentence in SENTENCE_END.split(NEXT_LINE.sub("; ", text)):
        if sentence.strip():
            yield sentence.strip()


@dataclass(frozen=True)
class Coding:
    """What the whole notice says of date codes: their place, if in the serial, if year last."""

    place: Place | None
    inside: bool
    swapped: bool


def _coding(spoken: list[str]) -> Coding:
    about_codes = [one for one in spoken if CODED.search(one)]
    return Coding(
        place=_place_in(spoken),
        inside=any(map(IN_SERIAL.search, about_codes)),
        swapped=any(map(YEAR_LAST.search, spoken)),
    )


def _lead(sentence: str) -> str:
    """What stands before the first trigger word: “The TR-90 with”."""
    return sentence[: TRIGGER.search(sentence).start()]


def _of_some(clause: Clause, known: set[str]) -> Clause:
    """“The TR-90 with serial numbers ...”: they may be the serials of that model alone."""
    if clause.names_models or not clause.serials:
        return clause
    lead = _lead(clause.sentence)
    named = strong_codes(lead) or known & runs_of(lead)
    return replace(clause, unclear_serials=True) if named else clause


def _strays(texts: list[str], known: set[str]) -> tuple[Clause, ...]:
    """Texts that name codes without saying of what: they make the rest uncertain."""
    return tuple(
        Clause(text, unclear_models=True, unclear_serials=True)
        for text in texts
        if not known.issuperset(strong_codes(text))
    )


def _clauses(sentence: str, coding: Coding) -> list[Clause]:
    """One clause for a sentence, or one for each model that has serials of its own.

    Where some models have serials and others have none, nobody knows whose the serials are.
    """
    stretches = list(_stretches(sentence))
    if _is_table_head(stretches):
        return [Clause(sentence, unclear_models=True, unclear_serials=True)]
    parted = [_clause(sentence, part, coding) for part in _parted(stretches)]
    if all(one.names_models and one.serials for one in parted):
        return parted
    whole = _clause(sentence, stretches, coding)
    telling = [one for one in parted if one.names_models or one.serials]
    if len(telling) > 1 and whole.serials:
        return [replace(whole, unclear_serials=True)]
    return [whole]


def _parted(stretches: list[tuple[str, str]]) -> list[list[tuple[str, str]]]:
    parts = [stretches[:1]]
    for before, stretch in pairwise(stretches):
        if stretch[0] == "model" and before[0] != "model":
            parts.append([])
        parts[-1].append(stretch)
    return parts


def _clause(sentence: str, stretches: list[tuple[str, str]], coding: Coding) -> Clause:
    models, beginnings, serials = [], [], []
    read = [(sort, listed(text)) for sort, text in stretches]
    for sort, found in read:
        for item in found.items:
            if sort != "model":
                serials.append(_pattern(item, sort, coding))
            else:
                (beginnings if item.end == "begins" else models).extend(sorted(keys_of(item)))
    leftover = any(found.leftover for sort, found in read)
    return Clause(
        sentence,
        tuple(dict.fromkeys(models)),
        tuple(dict.fromkeys(beginnings)),
        tuple(dict.fromkeys(serials)),
        unclear_models=leftover or bool(OPEN_ENDED.search(sentence)),
        unclear_serials=leftover,
    )


def _stretches(sentence: str) -> Iterator[tuple[str, str]]:
    """What follows each trigger word, up to the next one; asides without a code are left out."""
    sentence = re.sub(r"\((?!\s*(?:model|serial))[^()\d]*\)", " ", sentence, flags=re.IGNORECASE)
    for place in (END_PLACE, MIDDLE_PLACE):
        sentence = place.sub(_without_place, sentence)
    found = list(TRIGGER.finditer(sentence))
    ends = [one.start() for one in found[1:]] + [len(sentence)]
    for trigger, end in zip(found, ends, strict=True):
        text = sentence[trigger.end() : end]
        # “CV100-CV200) and TR-95 (serial numbers ...”: the next model stands before its serials.
        if trigger.lastgroup == "serial" and text.rstrip().endswith("(") and ")" in text:
            text, _, model = text.partition(")")
            yield "serial", text
            yield "model", model
        else:
            yield trigger.lastgroup, text


def _without_place(found: re.Match) -> str:
    words = {word.lower() for word in found.groups()}
    return " " if words & (set(ORDINALS) | {"first", "last"}) else found[0]


def _is_table_head(stretches: list[tuple[str, str]]) -> bool:
    """“Model Number Serial Number Range TR-90 CV1-CV9”: columns that lost their rows."""
    return any(
        first == "model" and not text.strip(" \t|") and second == "serial" and listed(after).items
        for (first, text), (second, after) in pairwise(stretches)
    )


def _pattern(item: Item, sort: str, coding: Coding) -> Pattern:
    low, high = match_key(item.low), match_key(item.high or item.low)
    place = coding.place
    fits_place = place is not None and len(low) == place.width
    if len(low) == len(high) and (sort == "date" or fits_place):
        inside = coding.inside or fits_place
        return Coded(low, high, place.start if fits_place else None, coding.swapped, inside)
    if sort == "date":
        # A code that is no code of one width: nobody can look for it in a serial.
        return Coded(low, high, inside=False)
    if item.high:
        return Between(low, high, leading=item.end == "begins")
    return {"begins": Begins, "ends": Ends}.get(item.end, Exactly)(low)


def _place_in(spoken: list[str]) -> Place | None:
    """“the first four digits”, “the third through sixth digits” of a serial, if one says so."""
    for sentence in spoken:
        if not ABOUT_PLACES.search(sentence):
            continue
        if (found := END_PLACE.search(sentence)) and (width := _count(found[2])):
            return Place(0 if found[1].lower() == "first" else -width, width)
        for found in MIDDLE_PLACE.finditer(sentence):
            first, last = (ORDINALS.get(word.lower()) for word in found.groups())
            if first is not None and last is not None and first < last:
                return Place(first, last - first + 1)
    return None


def _count(word: str) -> int:
    return int(word) if word.isdecimal() and len(word) == 1 else COUNTS.get(word.lower(), 0)
