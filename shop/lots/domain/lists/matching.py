"""Which model of the catalogue a seller means, and how sure that is.

A seller writes ``HG7100``, ``Holmgate 7100 treadmill``, ``OM95OO`` or a trade name. What stands
there is held against the numbers that we know, as they stand and with letters and digits that look
alike taken for each other; only then by likeness. Digits tell models apart: one that differs makes
another model.
"""

import re
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from rapidfuzz import fuzz, process

from shop.lots.domain.lists.words import kind_in
from units.catalogue.domain.keys import match_key

SURE, LIKELY, LEAST = 0.90, 0.60, 0.40
APART = 0.10  # so far the second must be behind before the first is sure
MAKER_ALIKE = 86
MOST_WORDS, MOST_SHOWN = 4, 4
# Common practice, no published source: how far each way of agreeing is trusted.
LEARNT, EXACT, EXACT_ALONE, FOLDED = 0.97, 0.99, 0.94, 0.91
NAMED, DIGITS, WRITTEN = 0.85, 0.80, 0.82
UNTOLD = 0.15  # less, where no maker is told
OTHER_LETTERS = 0.6  # times, where letters stand before the digits that are not the model's
OTHER_KIND, OTHER_MAKER = 0.35, 0.45
LOOKS = str.maketrans({"O": "0", "I": "1", "L": "1", "S": "5", "B": "8", "Z": "2"})


@dataclass(frozen=True)
class Known:
    """A model as the catalogue has it; ``pk`` is its id."""

    pk: int
    maker: str
    number: str
    kind: str
    name: str = ""


@dataclass(frozen=True)
class Candidate:
    """A model that may be meant, and how sure that is, 0 to 1."""

    model: Known
    confidence: float


@dataclass(frozen=True)
class Match:
    """What a text was taken for: the candidates, best first, and the maker that it names."""

    candidates: tuple[Candidate, ...] = ()
    maker: str = ""

    @property
    def best(self) -> Candidate | None:
        return self.candidates[0] if self.candidates else None

    @property
    def is_sure(self) -> bool:
        if not self.candidates or self.candidates[0].confidence < SURE:
            return False
        second = self.candidates[1].confidence if len(self.candidates) > 1 else 0.0
        return self.candidates[0].confidence - second >= APART


def folded(key: str) -> str:
    return key.translate(LOOKS)


def digits(key: str) -> str:
    return "".join(letter for letter in key if letter.isdigit())


@dataclass
class Catalogue:
    """Known models, found by number, by look and by likeness; built once for a list.

    ``aliases`` maps the key of what sellers call a maker to the maker, ``learnt`` the key of what
    was written to the id of the model that a person said it is.
    """

    models: Iterable[Known]
    aliases: Mapping[str, str] = field(default_factory=dict)
    learnt: Mapping[str, int] = field(default_factory=dict)

    def __post_init__(self):
        self.models = tuple(self.models)
        self.by_pk = {model.pk: model for model in self.models}
        self.by_key, self.by_look, self.by_digits = (defaultdict(list) for _ in range(3))
        self.by_name, self.makers = defaultdict(list), {}
        for model in self.models:
            key = match_key(model.number)
            self.by_key[key].append(model)
            self.by_look[folded(key)].append(model)
            self.by_digits[digits(key)].append(model)
            if model.name:
                self.by_name[match_key(model.name)].append(model)
            self.makers[match_key(model.maker)] = model.maker
        self.makers |= {match_key(alias): maker for alias, maker in self.aliases.items()}
        self.numbers = list(self.by_key)
        self._said: dict[tuple[str, str, str], Match] = {}

    def match(self, text: str, maker: str = "", kind: str = "") -> Match:
        """What ``text`` means; ``maker`` and ``kind`` are what stands beside or above it."""
        asked = (text, maker, kind)
        if asked not in self._said:
            self._said[asked] = _match(self, *asked)
        return self._said[asked]

    def maker_in(self, text: str) -> str:
        """The maker that a text names, also misspelt or by another name, or ``""``."""
        words = _words(text)
        for window in _windows(words, 2):
            if found := self.makers.get(match_key(window)):
                return found
        for window in words:
            worded = len(window) >= 5 and window.isalpha()
            if worded and (found := _like_maker(match_key(window), self.makers)):
                return found
        return ""


def is_maker(word: str, maker: str) -> bool:
    """Whether a word is the name of a maker, or nearly."""
    return bool(maker) and fuzz.ratio(match_key(word), match_key(maker)) >= MAKER_ALIKE


def _like_maker(key: str, makers: Mapping[str, str]) -> str:
    found = process.extractOne(key, list(makers), scorer=fuzz.ratio, score_cutoff=MAKER_ALIKE)
    return makers[found[0]] if found else ""


def _words(text: str) -> list[str]:
    return re.findall(r"[^\W_]+(?:['’][^\W_]+)?", text)


def _windows(words: list[str], most: int = MOST_WORDS) -> Iterable[str]:
    """Neighbouring words written as one, the longest first."""
    for length in range(min(most, len(words)), 0, -1):
        for start in range(len(words) - length + 1):
            yield "".join(words[start : start + length])


def _match(catalogue: Catalogue, text: str, maker: str, kind: str) -> Match:
    named = catalogue.maker_in(text) or catalogue.maker_in(maker)
    scores: dict[int, float] = {}
    learnt = catalogue.learnt.get(match_key(f"{maker} {text}")) or catalogue.learnt.get(
        match_key(text)
    )
    if learnt in catalogue.by_pk:
        scores[learnt] = LEARNT
    for model, score in _agreeing(catalogue, text, named):
        scores[model.pk] = max(scores.get(model.pk, 0.0), score)
    said_kind = kind_in(text) or kind
    weighed = [(catalogue.by_pk[pk], score) for pk, score in scores.items()]
    candidates = [
        Candidate(model, round(_beside(model, score, named, said_kind), 3))
        for model, score in weighed
    ]
    candidates = [one for one in candidates if one.confidence >= LEAST]
    candidates.sort(key=lambda one: (-one.confidence, one.model.pk))
    return Match(tuple(candidates[:MOST_SHOWN]), named)


def _beside(model: Known, score: float, maker: str, kind: str) -> float:
    """A score in the light of the maker and the kind that are told as well."""
    if maker and match_key(maker) != match_key(model.maker):
        score -= OTHER_MAKER
    if kind and kind != model.kind:
        score -= OTHER_KIND
    return max(0.0, score)


def _agreeing(catalogue: Catalogue, text: str, maker: str) -> Iterable[tuple[Known, float]]:
    keys = [match_key(window) for window in _windows(_words(text))]
    keys = list(dict.fromkeys(key for key in keys if key))
    numbered = [key for key in keys if any(letter.isdigit() for letter in key)]
    found = False
    for key in numbered:
        for model in catalogue.by_key.get(key, ()):
            found = True
            yield model, EXACT if maker else EXACT_ALONE
    if found:
        return
    for key in numbered:
        for model in catalogue.by_look.get(folded(key), ()):
            found = True
            yield model, FOLDED
    if not found:
        yield from _less_sure(catalogue, text, numbered, maker)


def _less_sure(catalogue, text, numbered, maker) -> Iterable[tuple[Known, float]]:
    # "Glide Plus" is no "Glide": of the names that stand there the longest is meant.
    keys = (match_key(window) for window in _windows(_words(text)))
    called = next((key for key in keys if key in catalogue.by_name), "")
    for model in catalogue.by_name.get(called, ()):
        yield model, NAMED if maker else NAMED - UNTOLD
    for key in numbered:
        times = OTHER_LETTERS if _has_letters_before(text, key) else 1.0
        for model, score in _by_figures(catalogue, key, maker):
            yield model, times * score


def _by_figures(catalogue, key, maker) -> Iterable[tuple[Known, float]]:
    if key.isdigit() and len(key) >= 2:
        yield from _by_digits(catalogue, key, maker)
    if len(key) >= 3:
        yield from _alike(catalogue, key)


def _by_digits(catalogue, key, maker) -> Iterable[tuple[Known, float]]:
    """``7100`` for HG 7100: the more models it fits, the less it says."""
    same = [one for one in catalogue.by_digits.get(key, ()) if _of(one, maker)]
    for model in same:
        yield model, (DIGITS if maker else DIGITS - UNTOLD) / len(same) ** 0.5


def _has_letters_before(text: str, key: str) -> bool:
    """Whether capitals before the digits belong to the number, as in ``ZX 900``."""
    before = re.search(rf"\b([A-Z]{{1,4}})[ -]{key}\b", text)
    return bool(before) and not kind_in(before[1])


def _alike(catalogue, key) -> Iterable[tuple[Known, float]]:
    found = process.extract(key, catalogue.numbers, scorer=fuzz.ratio, score_cutoff=70, limit=3)
    for number, ratio, _place in found:
        share = 1.0 if digits(number) == digits(key) else 0.7
        for model in catalogue.by_key[number]:
            yield model, WRITTEN * ratio / 100 * share


def _of(model: Known, maker: str) -> bool:
    return not maker or match_key(maker) == match_key(model.maker)
