"""What may be the name of a maker that nobody here has met."""

from collections.abc import Sequence
from itertools import chain

from units.catalogue.domain.keys import match_key
from units.plates.domain.proposal import Candidate, FieldName, Outcome, ReadField
from units.plates.domain.snippets import ALONE, Snippet

SHORTEST, MOST_WORDS = 3, 4
NAMED, TALLEST = 0.6, 0.4  # common practice, no published source: never enough to be sure


def new_maker(snippets: Sequence[Snippet]) -> ReadField:
    """The name beside a maker's label, else the tallest words that no label names.

    Makers write their own name larger than anything else on the plate. A person always looks.
    """
    names = [one for one in snippets if _may_be_a_name(one)]
    labelled = [one for one in names if one.names == "maker"]
    tallest = [one for one in names if one.relation == ALONE and not one.names]
    ranked = chain(
        ((one, NAMED) for one in sorted(labelled, key=lambda one: -one.confidence)),
        ((one, TALLEST) for one in sorted(tallest, key=lambda one: -one.height)),
    )
    best, confidence = next(ranked, (None, 0.0))
    if best is None:
        return ReadField(FieldName.MAKER)
    candidate = Candidate(best.text, round(confidence * best.confidence, 4))
    return ReadField(
        FieldName.MAKER,
        best.text,
        candidate.probability,
        Outcome.LOOK,
        best.box,
        (candidate,),
    )


def _may_be_a_name(snippet: Snippet) -> bool:
    key = match_key(snippet.text)
    plain = len(key) >= SHORTEST and not any(char.isdigit() for char in key)
    return plain and len(snippet.text.split()) <= MOST_WORDS
