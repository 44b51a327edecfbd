"""Which serial number a plate bears."""

from collections.abc import Iterator, Sequence

from rapidfuzz.distance import Levenshtein

from units.plates.domain.beside import RIGHT
from units.plates.domain.evidence import (
    BARCODE,
    Hypothesis,
    Span,
    ranked,
    to_shape,
    weigh,
    with_changes,
)
from units.plates.domain.groups import edge_twins, group_starts, with_change
from units.plates.domain.knowledge import shape_of
from units.plates.domain.labels import fold
from units.plates.domain.likeness import TWINS, Alike
from units.plates.domain.met_serials import Serials, printed_shape
from units.plates.domain.snippets import INLINE
from units.plates.domain.supply import is_supply, says_date, says_supply

SHORTEST, LONGEST = 5, 24
NEVER_LONG = {"maker", "supply"}  # labels whose own values no long number is
CLEAR_OF_TWIN = 0.003  # by trial on the tuning families
LIKELY_SWAP = 0.02
# The network takes a letter among figures for a figure; with doubts of other kinds it is mostly
# right. By trial on the tuning families.
SELDOM = 0.15


def which_serial(
    spans: Sequence[Span],
    coded: Sequence[Span],
    serials: Serials,
    alike: Alike,
    taken: set[str],
) -> list[Hypothesis]:
    """What the serial may be, the likeliest first. ``taken``: what is no serial, as match
    keys, or with look-alikes folded into one."""
    coded_keys = {span.key for span in coded if span.names != "other"}
    fitting = [span for span in spans if _may_be(span, serials, taken, coded_keys)]
    usable = _usable(fitting, serials, coded_keys)
    texts = dict.fromkeys(text for span in usable for text in _texts(span, serials, alike))
    for text in _from_codes(usable, coded, serials, taken):
        texts.setdefault(text)
    hypotheses = [Hypothesis(text, prior=serials.prior(text)) for text in texts]
    for one in hypotheses:
        # By chance alone a shape comes back where any place may hold a letter or a figure.
        one.known = shape_of(one.key) in serials.shapes and not serials.resembles(one.key)
        weigh(one, usable, coded, "serial", alike)
        if one.span is None and one.coded:
            one.span = next(span for span in coded if span.key == one.key)
    return ranked(hypotheses)


def _usable(fitting: Sequence[Span], serials: Serials, coded: set[str]) -> list[Span]:
    """What a label names, and what looks like the maker's; without a label also what a symbol
    repeats, else any long number, and at last what seems to stand beside another label."""
    unnamed = [span for span in fitting if not span.names]
    named = [span for span in fitting if span.names == "serial"]
    repeated = set() if named else coded
    usable = named + [one for one in unnamed if one.key in repeated or _plausible(one, serials)]
    if not usable:
        usable = [span for span in unnamed if _is_long(span)]
    return usable or [span for span in fitting if span.names in NEVER_LONG and _is_long(span)]


def _is_long(span: Span) -> bool:
    return len(span.key) >= 6 and _digits(span.key) >= 4


def _may_be(span: Span, serials: Serials, taken: set[str], coded: set[str]) -> bool:
    """Long enough, like a number, and neither the model nor a supply nor a date."""
    if not SHORTEST <= len(span.key) <= LONGEST or _is_taken(span.key, taken):
        return False
    named = span.names == "serial"
    if not (named and span.relation == INLINE) and says_date(span.text):
        return False
    if span.key in coded and _digits(span.key):
        return True
    # A serial may hold what looks like volts, as "123V90MC".
    stated = is_supply if named and _is_word(span) else says_supply
    figures = 1 if serials.resembles(span.key) else 2
    return not stated(span.text) and (_digits(span.key) >= figures or _is_named_word(span, serials))


def _is_taken(key: str, taken: set[str]) -> bool:
    return key in taken or fold(key) in taken


def _is_named_word(span: Span, serials: Serials) -> bool:
    """Of the few serials that are letters only, or nearly, one word that a label names: it stands
    right beside its label, or has a digit that is no misread letter ("F1TNESS"), or is one of the
    maker's by its length."""
    return bool(
        span.names
        and _is_word(span)
        and len(span.key) >= 6
        and (
            span.relation in (INLINE, RIGHT) or _digits(fold(span.key)) or _plausible(span, serials)
        )
    )


def _is_word(span: Span) -> bool:
    return span.text.isupper() and " " not in span.text


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
            weight = max(
                sign.weight(other),
                (1 - sign.weight(sign.char)) * 0.3,
                alike.slip(sign, with_change(span.key, at, other), at),
            )
            if weight >= LIKELY_SWAP:
                doubtful.append((weight, at, other))
    for _weight, at, other in sorted(doubtful, reverse=True)[:6]:
        yield with_changes(span.text, {at: other})


def _from_codes(usable, coded, serials: Serials, taken: set[str]) -> Iterator[str]:
    """Symbols that repeat a printed serial, or that look like one of the maker's, or like any long
    number where no label names a serial."""
    unlabelled = not any(span.names == "serial" for span in usable)
    for span in coded:
        if not SHORTEST <= len(span.key) <= LONGEST or _is_taken(span.key, taken):
            continue
        if (
            shape_of(span.key) in serials.shapes
            or nearest(span.key, usable) <= 3
            or (unlabelled and span.names != "other" and _is_long(span))
        ):
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


def shape_worth(best: Hypothesis, serials: Serials) -> float:
    """How far the maker's confirmed serials speak for this one by their shape, 0 to 1; a half where
    none is known, or where they may have any shape of this length."""
    if best.known:
        return 1.0
    return 0.5 if serials.resembles(best.key) or not serials.count else 0.0


def unsettled(best: Hypothesis, serials: Serials, alike: Alike) -> float:
    """The largest doubt between look-alikes that neither shape nor symbol settles, 0 to 1."""
    if best.coded or best.span is None or len(best.span.signs) != len(best.key):
        return 0.0
    doubt = 0.0
    for at, (sign, char) in enumerate(zip(best.span.signs, best.key, strict=True)):
        if serials.constant(best.key, at):
            continue
        for other in alike.swaps(char):
            swapped = with_change(best.key, at, other)
            if serials.count and shape_of(swapped) not in serials.shapes and best.known:
                continue
            weight = sign.weight(other) + 0.1 * alike.share(char, other) * (sign.char != char)
            if not best.known and not (char.isdigit() and other.isalpha()):
                weight *= SELDOM
            doubt = max(doubt, weight)
    return doubt


def ambiguous(best: Hypothesis, serials: Serials, clear: bool) -> bool:
    """A 0 or O that neither a symbol, a measure of it, its own clear print nor the maker's
    other serials tell apart. ``clear``: no other reading comes near this one."""
    usual_kind = best.known or serials.resembles(best.key)
    begins = group_starts(best.text)
    return not best.coded and any(
        not serials.usual(best.key, at)
        and not settled(best, at)
        and not (usual_kind and best.key[at] == "0" and serials.never_chose("O"))
        and not (clear and at not in begins and _clear_of_twin(best, at))
        for at in edge_twins(best.key, begins)
    )


def _clear_of_twin(best: Hypothesis, at: int) -> bool:
    """Whether the network saw nothing of the look-alike where this 0 or O is printed."""
    signs = best.span.signs if best.span else ()
    char = best.key[at]
    return len(signs) == len(best.key) and signs[at].weight(TWINS[char]) < CLEAR_OF_TWIN


def settled(best: Hypothesis, at: int) -> bool:
    """Whether the print that fits best shows, by a measure of it, that this character is right."""
    signs = best.span.signs if best.span else ()
    return len(signs) == len(best.key) and signs[at].settled and signs[at].char == best.key[at]


def hardly_a_number(best: Hypothesis, serials: Serials) -> bool:
    """So few figures that it may be a word, and nothing else speaks for it."""
    return not (best.coded or best.known or serials.resembles(best.key)) and _digits(best.key) < 2


def named_otherwise(best: Hypothesis) -> bool:
    """Found beside the label of something else, or in a symbol that need not be of the plate."""
    if best.span is None:
        return False
    if best.coded:
        return best.span.relation == BARCODE and best.span.names != "serial" and not best.known
    return best.span.names not in ("", "serial")


def in_two_cases(best: Hypothesis) -> bool:
    """Printed in small and capital letters: one of them is no letter, but dirt or a mark."""
    letters = {char.isupper() for char in best.text if char.isalpha()}
    return len(letters) == 2 and not best.coded


def cut_short(best: Hypothesis, serials: Serials) -> bool:
    """Like the beginning or the end of the maker's serials, its marks and the characters that never
    change where theirs are: the rest is worn, perhaps. Or like them but for one character."""
    if best.coded or best.known:
        return False
    if serials.nearly(best.key):
        return True
    printed = printed_shape(best.text)
    if printed == shape_of(best.key):
        wholes = serials.shapes
    else:
        wholes = {one.replace("-", "") for one in serials.printed if _is_part(printed, one)}
    return any(serials.may_be_part(best.key, whole) for whole in wholes)


def _is_part(part: str, whole: str) -> bool:
    return whole.startswith(part) or whole.endswith(part)
