"""What a plate may say: possible texts of a field, weighed by all that speaks for them."""

import math
import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace

from units.catalogue.domain.keys import match_key
from units.plates.domain.beside import BELOW, RIGHT
from units.plates.domain.knowledge import shape_of
from units.plates.domain.labels import named
from units.plates.domain.likeness import TWINS, Alike, Sign, certain_signs, likelihood
from units.plates.domain.proposal import Barcode, Box
from units.plates.domain.snippets import ALONE, INLINE, Snippet

BARCODE = "barcode"
GLUED = re.compile(r"S/?N[.:#]*(?=\S{6,}$)(?=(?:\D*\d){4})")
TRADE = {"EAN-13", "UPC-A"}  # numbers of goods, not of one piece
# How far a value's place speaks for it, in natural logarithms; by trial on the tuning families.
PLACES = {INLINE: 0.0, RIGHT: -0.4, BELOW: -1.0, ALONE: -4.0, BARCODE: -1.5}
NAMED_OTHERWISE = -8.0
# And how far it speaks for the confidence.
PLACE_WORTH = {INLINE: 3.0, RIGHT: 2.0, BELOW: 1.0, ALONE: 0.0, BARCODE: 1.0}
DROPPED = -3.0  # a labelled value goes to its end, each word less is less likely
UNSEEN = -9.0  # a look that shows nothing of a text
SECOND = 0.6  # two looks at one print are not two witnesses
MOST_SWAPS = 3
PART_OF = 12.0
CODED = 7.0  # a symbol says the same: read whole or not at all, though not each has a check


@dataclass(frozen=True)
class Span:
    """A run of words of one snippet that may be a whole value."""

    text: str
    signs: tuple[Sign, ...]
    relation: str
    names: str
    view: int
    box: Box
    height: float
    dropped: int = 0  # words of the snippet that this run leaves out

    @property
    def key(self) -> str:
        return "".join(sign.char for sign in self.signs)

    def place_for(self, names: str) -> float:
        if self.names in ("", names):
            return PLACES[self.relation] + DROPPED * self.dropped * bool(self.names)
        return NAMED_OTHERWISE


@dataclass
class Hypothesis:
    """A text that a field may say, and what speaks for it.

    ``score`` is a logarithm known up to a constant; ``span`` is the print that fits it best.
    """

    text: str
    maker: str = ""
    known: bool = False
    prior: float = 0.0
    score: float = -math.inf
    span: Span | None = None
    fit: float = -math.inf
    views: dict[int, float] = field(default_factory=dict)
    coded: bool = False

    @property
    def key(self) -> str:
        return match_key(self.text)


def spans_of(snippets: Iterable[Snippet], most_words: int = 4) -> list[Span]:
    """Each snippet whole, and every shorter run of its words."""
    return [
        span
        for one in snippets
        for whole in (one, *_without_its_label(one))
        for span in _runs(whole, most_words)
    ]


def _without_its_label(snippet: Snippet) -> Iterator[Snippet]:
    """What follows "SN" in a number without a label: that may be one whose slash and space were not
    read. Never surer than print without a label."""
    glued = GLUED.match(snippet.text)
    if glued and not snippet.names:
        signs = snippet.signs[len(match_key(glued[0])) :]
        yield replace(snippet, text=snippet.text[glued.end() :], signs=signs, names="serial")


def _runs(snippet: Snippet, most_words: int) -> Iterator[Span]:
    words, at = [], 0
    for word in snippet.text.replace(":", " ").split():
        length = len(match_key(word))
        words.append((word, snippet.signs[at : at + length]))
        at += length
    if at != len(snippet.signs):  # a character that has no place of its own: take it whole
        words = [(snippet.text, snippet.signs)]
    count = len(words)
    for first in range(count):
        for last in range(first + 1, count + 1):
            whole = (first, last) == (0, count)
            signs = tuple(sign for _word, part in words[first:last] for sign in part)
            if signs and (whole or last - first <= most_words):
                text = " ".join(word for word, _part in words[first:last])
                yield Span(
                    text,
                    signs,
                    snippet.relation if first == 0 else _moved(snippet.relation),
                    snippet.names,
                    snippet.view,
                    snippet.box,
                    snippet.height,
                    count - (last - first),
                )


def _moved(relation: str) -> str:
    """A run that does not begin where the value begins stands less surely beside its label."""
    return BELOW if relation in (INLINE, RIGHT) else relation


def place_worth(span: Span | None, names: set[str]) -> float:
    """What its place is worth to a value that one of these labels names, or none."""
    return PLACE_WORTH[span.relation] if span and span.names in names | {""} else 0.0


def coded_spans(barcodes: Sequence[Barcode]) -> list[Span]:
    """What symbols say, whole and by their parts, as print that cannot be misread."""
    spans = []
    for barcode in barcodes:
        parts = {barcode.text: ""} | _parts(barcode.text)
        other = "other" if barcode.format in TRADE or _is_other(barcode.text) else ""
        spans += [
            Span(text, certain_signs(text), BARCODE, names or other, -1, barcode.box, 0.0)
            for text, names in parts.items()
            if match_key(text)
        ]
    return spans


def _is_other(text: str) -> bool:
    """Whether a symbol begins with the label of what is no serial, as LOT4471 does."""
    return named(re.match("[A-Za-z]*", text)[0]) == "other"


def _parts(text: str) -> dict[str, str]:
    """Every run of the words of a symbol's text, and what the name before it says that it is: of
    "SN:CV2014;MN=T-310" the first is a serial."""
    for mark in ";|,\t\n":
        text = text.replace(mark, " ")
    words = [re.split("[:=]", word) for word in text.split()]
    words = [(said[-1], said[0] if len(said) > 1 else "") for said in words if said[-1]]
    ends = range(1, len(words) + 1)
    return {
        " ".join(word for word, _name in words[first:last]): named(words[first][1])
        for last in ends
        for first in range(last)
    }


def weigh(
    hypothesis: Hypothesis, spans: Sequence[Span], coded: Sequence[Span], names: str, alike: Alike
) -> None:
    """Fill in how well all looks and symbols together support one hypothesis."""
    key = hypothesis.key
    for span in spans:
        if abs(len(span.signs) - len(key)) > 3:
            continue
        fit = likelihood(span.signs, key, alike)
        support = fit + span.place_for(names)
        if support > hypothesis.views.get(span.view, UNSEEN):
            hypothesis.views[span.view] = support
            if hypothesis.span is None or support >= max(hypothesis.views.values()):
                hypothesis.span, hypothesis.fit = span, fit
    hypothesis.coded = any(span.key == key for span in coded)
    looks = sorted(hypothesis.views.values(), reverse=True) or [UNSEEN * 1.5]
    second = looks[1] if len(looks) > 1 else UNSEEN
    hypothesis.score = hypothesis.prior + looks[0] + SECOND * second
    hypothesis.score += CODED * hypothesis.coded


def ranked(hypotheses: Iterable[Hypothesis]) -> list[Hypothesis]:
    """The best of each text, the likeliest first."""
    best: dict[str, Hypothesis] = {}
    for one in hypotheses:
        if one.span is None and not one.coded:
            continue  # nothing on the plate says so
        if one.key not in best or one.score > best[one.key].score:
            best[one.key] = one
    return sorted(best.values(), key=lambda one: -one.score)


def shares(ranked_: Sequence[Hypothesis]) -> list[float]:
    """The scores as shares of one: what each would be worth if the scores were exact."""
    if not ranked_:
        return []
    top = ranked_[0].score
    weights = [math.exp(max(-60.0, one.score - top)) for one in ranked_]
    return [weight / sum(weights) for weight in weights]


def to_shape(span: Span, shape: str, alike: Alike) -> str:
    """The text with look-alikes put in wherever the shape wants the other sort of character."""
    changes = {}
    for at, (sign, wanted) in enumerate(zip(span.signs, shape, strict=True)):
        if shape_of(sign.char) == wanted:
            continue
        fitting = [other for other in alike.swaps(sign.char) if shape_of(other) == wanted]
        if not fitting or len(changes) == MOST_SWAPS:
            return ""
        changes[at] = max(
            fitting, key=lambda char: (sign.weight(char), alike.share(sign.char, char))
        )
    return with_changes(span.text, changes)


def with_changes(text: str, changes: dict[int, str]) -> str:
    """A text with some of its letters and digits, counted without marks, changed."""
    out, at = [], -1
    for char in text:
        at += len(match_key(char))
        out.append(changes.pop(at, char) if match_key(char) else char)
    return "".join(out)


def gap(ranked_: Sequence[Hypothesis]) -> float:
    """How far the best is ahead of the next, a logarithm; infinite without one.

    One that only has a 0 for an O or an O for a 0 is no rival to what a catalogue or a maker's
    other serials know.
    """
    best, *rest = ranked_
    rivals = [
        one
        for one in rest
        if one.known or not best.known or _without_twins(one.key) != _without_twins(best.key)
    ]
    return best.score - rivals[0].score if rivals else math.inf


def goes_on(ranked_: Sequence[Hypothesis]) -> bool:
    """Whether a longer reading, of which the best is a part, has something for it: the rest of a
    value is sometimes found as a line of its own."""
    best, *rest = ranked_
    return not best.known and any(
        best.key in one.key and one.score > best.score - PART_OF and (one.coded or not best.coded)
        for one in rest
    )


def _without_twins(key: str) -> str:
    return key.replace("O", "0")


def least_weight(hypothesis: Hypothesis, settled: Callable[[int], bool]) -> float:
    """The weight of the least sure character of the print behind a hypothesis.

    Where ``settled`` holds for a place, a 0 and an O there weigh as one.
    """
    span = hypothesis.span
    if span is None:
        return 0.0
    if len(span.signs) != len(hypothesis.key):
        return 0.1
    weights = [
        sign.weight(char) + (sign.weight(TWINS[char]) if char in TWINS and settled(at) else 0.0)
        for at, (sign, char) in enumerate(zip(span.signs, hypothesis.key, strict=True))
    ]
    return max(1e-3, min(1.0, *weights, 1.0))


def mean_fit(hypothesis: Hypothesis) -> float:
    """Fit per character, a logarithm of at most 0."""
    if not math.isfinite(hypothesis.fit):
        return -5.0
    return max(-5.0, hypothesis.fit / max(len(hypothesis.key), 1))
