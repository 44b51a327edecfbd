"""A letter and the figure that looks like it as two readings of one character."""

import math
from dataclasses import replace

from units.plates.domain.sight.engine import Glyph

EYE = 0.5  # how far the network's own word counts beside a measure; by trial on the tuning families
LEAST_WEIGHT = 2e-3
TELLS = 2.0  # natural logarithm from which a measure alone settles which of the two it is
DOUBT = 0.02  # what a measure that agrees leaves of a doubt of the network's
SEEN = 0.004  # weight from which the network doubts
MOST_SWAYED = 0.9
ROUND = {"0", "O"}


def is_round(glyph: Glyph) -> bool:
    return glyph.char.upper() in ROUND


def weights_of(glyph: Glyph) -> dict[str, float]:
    return dict(glyph.others) | {glyph.char: glyph.weight}


def round_weight(glyph: Glyph) -> float:
    """The weight of a character's being either a 0 or an O."""
    return sum(weight for char, weight in weights_of(glyph).items() if char.upper() in ROUND)


def weighed(glyph: Glyph, letter: str, figure: str, for_letter: float, *, trusted: bool) -> Glyph:
    """A character that is one of the two, with what a measure says.

    ``for_letter`` is the natural logarithm of how much likelier that is of the letter. A measure
    that says as the network does leaves at most a small doubt; one that says otherwise shares
    their weights anew. ``trusted``: the network mostly sees the two right; then a measure sways
    only what the network doubts, not altogether, and settles nothing against it.
    """
    read, other = (figure, letter) if glyph.char == figure else (letter, figure)
    for_read = for_letter if read == letter else -for_letter
    weights = weights_of(glyph)
    both = weights.get(letter, 0.0) + weights.get(figure, 0.0)
    if for_read >= TELLS:
        chance = min(weights.get(other, 0.0), DOUBT * both) / both
    elif for_read > -TELLS / 2 or (trusted and weights.get(other, 0.0) < SEEN):
        return glyph
    else:
        of_read, of_other = (max(weights.get(one, 0.0), LEAST_WEIGHT) for one in (read, other))
        chance = 1 / (1 + math.exp(EYE * math.log(of_read / of_other) + for_read))
        chance = min(chance, MOST_SWAYED) if trusted else chance
    weights |= {read: both * (1 - chance), other: both * chance}
    char = other if chance > 0.5 else read
    return replace(
        glyph,
        char=char,
        weight=weights[char],
        others=tuple((one, weight) for one, weight in weights.items() if one != char),
        settled=for_read >= TELLS or (char == other and for_read <= -TELLS and not trusted),
    )
