"""Which model a plate names, and which maker."""

from collections.abc import Container, Iterable, Sequence
from itertools import takewhile

from rapidfuzz import fuzz, process
from rapidfuzz.distance import Levenshtein

from units.catalogue.domain.keys import match_key
from units.plates.domain.evidence import (
    Hypothesis,
    Span,
    ranked,
    to_shape,
    weigh,
)
from units.plates.domain.groups import with_change
from units.plates.domain.knowledge import Knowledge, shape_of
from units.plates.domain.likeness import TWINS, Alike
from units.plates.domain.snippets import Snippet
from units.plates.domain.supply import is_no_model

UNKNOWN = -7.0  # a number that is in no catalogue, against one that is
KNOWN_SHAPE = 2.5  # but looks like this maker's numbers
KNOWN_BEGINNING, ENOUGH = 2.5, 8  # and begins as all of so many do; by trial on the tuning families
SAME_MAKER = 2.5
OTHER_MAKER = -3.0
LEAST_WITHIN = 5
MAKER_ALIKE = 80  # of 100, by letters
SHORTEST, LONGEST = 2, 20
READILY = 0.04


def which_maker(
    snippets: Sequence[Snippet], knowledge: Knowledge
) -> list[tuple[str, float, Snippet]]:
    """Known makers whose name stands on the plate, with likeness (0 to 1), the likest first."""
    names = {match_key(name): name for name in knowledge.makers}
    found: dict[str, tuple[float, Snippet]] = {}
    for snippet in snippets:
        for word in [snippet.text, *snippet.text.split()]:
            key = match_key(word)
            if len(key) < 4:
                continue
            match = process.extractOne(
                key, list(names), scorer=fuzz.ratio, score_cutoff=MAKER_ALIKE
            )
            for name in [match[0]] if match else _at_an_edge(key, names):
                likeness = match[1] / 100 if match else 1.0
                if likeness > found.get(name, (0.0,))[0]:
                    found[name] = (likeness, snippet)
    order = sorted(found.items(), key=lambda one: -one[1][0])
    return [(names[key], likeness, snippet) for key, (likeness, snippet) in order]


def _at_an_edge(key: str, names: Iterable[str]) -> list[str]:
    """Makers' names with which a longer word begins or ends, as in CORVANEFITNESS; a short name
    may stand in any word by chance."""
    return [
        one
        for one in names
        if len(one) >= LEAST_WITHIN and (key.startswith(one) or key.endswith(one))
    ]


def which_model(
    spans: Sequence[Span],
    coded: Sequence[Span],
    makers: Sequence[str],
    knowledge: Knowledge,
    alike: Alike,
) -> list[Hypothesis]:
    """What the model number may be, the likeliest first; the catalogue and the print compete."""
    usable = [span for span in spans if span.names in ("", "model", "maker")]
    hypotheses = [*_catalogued(usable, coded, makers, knowledge)]
    hypotheses += _as_printed(usable, makers, knowledge, alike)
    for one in hypotheses:
        weigh(one, usable, coded, "model", alike)
    return ranked(hypotheses)


def _catalogued(spans, coded, makers, knowledge: Knowledge):
    by_key: dict[str, list[tuple[str, str]]] = {}
    for maker, number in knowledge.models:
        by_key.setdefault(match_key(number), []).append((maker, number))
    keys = list(by_key)
    near = set()
    for key in {span.key for span in [*spans, *coded]}:
        if SHORTEST <= len(key) <= LONGEST + 6:
            most = 2 if len(key) > 4 else 1
            found = process.extract(
                key, keys, scorer=Levenshtein.distance, score_cutoff=most, limit=8
            )
            near |= {match[0] for match in found}
    for key in sorted(near):
        for maker, number in by_key[key]:
            yield Hypothesis(number, maker, known=True, prior=_maker_prior(maker, makers))


def _maker_prior(maker: str, makers: Sequence[str]) -> float:
    if not makers:
        return 0.0
    return SAME_MAKER if maker in makers else OTHER_MAKER


def _as_printed(spans, makers, knowledge: Knowledge, alike: Alike):
    """Numbers that no catalogue holds: beside their label, or shaped like this maker's."""
    known = {match_key(number) for _maker, number in knowledge.models}
    shapes, beginning = shapes_of(makers, knowledge), beginning_of(makers, knowledge)
    texts = dict.fromkeys(
        text
        for span in spans
        if SHORTEST <= len(span.key) <= LONGEST
        and any(char.isdigit() for char in span.key)
        and not is_no_model(span.text)
        for text in _spellings(span, shapes, beginning, alike)
    )
    serials = {
        shape_of(match_key(serial))
        for maker, serial in knowledge.serials
        if not makers or maker in makers
    }
    for text in texts:
        if match_key(text) not in known and shape_of(match_key(text)) not in serials:
            prior = UNKNOWN + KNOWN_SHAPE * (shape_of(match_key(text)) in shapes)
            prior += KNOWN_BEGINNING * bool(beginning and match_key(text).startswith(beginning))
            prior += SAME_MAKER if makers else 0.0
            yield Hypothesis(text, makers[0] if makers else "", prior=prior)


def shapes_of(makers: Sequence[str], knowledge: Knowledge) -> set[str]:
    """The shapes of these makers' model numbers, of all makers' if none is named."""
    return {
        shape_of(match_key(number))
        for maker, number in knowledge.models
        if not makers or maker in makers
    }


def beginning_of(makers: Sequence[str], knowledge: Knowledge) -> str:
    """The letters with which every model number of the one maker begins, if enough are known."""
    keys = [match_key(number) for maker, number in knowledge.models if maker in makers]
    if len(keys) < ENOUGH or len(makers) != 1:
        return ""
    shared = takewhile(
        lambda pair: pair[0] == pair[1] and pair[0].isalpha(),
        zip(min(keys), max(keys), strict=False),  # what these two share, all share
    )
    return "".join(char for char, _same in shared)


def only_here(key: str, at: int, shapes: Container[str]) -> bool:
    """Whether a 0 or O at this place gives a shape of the maker's and its look-alike does not."""
    twin = with_change(key, at, TWINS.get(key[at], key[at]))
    return shape_of(key) in shapes and shape_of(twin) not in shapes


def _spellings(span: Span, shapes: set[str], beginning: str, alike: Alike):
    """The text as read, if its place or its shape speaks for it, and with look-alikes put right;
    without a label only where that begins as all of the maker's numbers do."""
    named = span.names == "model"
    begins = len(beginning) > 1 and span.key.startswith(beginning)
    if named or (not span.names and (begins or shape_of(span.key) in shapes)):
        yield span.text
    for shape in shapes if named or beginning else ():
        if len(shape) == len(span.key) and shape != shape_of(span.key):
            text = to_shape(span, shape, alike)
            if text and (named or match_key(text).startswith(beginning)):
                yield text


def mistakable(key: str, knowledge: Knowledge, alike: Alike) -> bool:
    """Whether another catalogued number is this one but for one character that is readily taken
    for another, as OM9500 and OM9S00: then print alone does not tell which it is."""
    others = {match_key(number) for _maker, number in knowledge.models if number}
    return any(
        with_change(key, at, other) in others
        for at, char in enumerate(key)
        for other in alike.swaps(char)
        if alike.share(char, other) >= READILY
    )


def neighbours(key: str, knowledge: Knowledge) -> int:
    """How many other catalogued numbers are one character away or go on where this one ends."""
    others = {match_key(number) for _maker, number in knowledge.models} - {key}
    return sum(
        Levenshtein.distance(key, other, score_cutoff=1) <= 1 or other.startswith(key)
        for other in others
    )
