"""A 0 and an O as two readings of one character."""

import math
from dataclasses import replace

from units.plates.domain.sight.engine import Glyph

EYE = 0.5  # how far the network's own word counts beside a measure
LEAST_WEIGHT = 2e-3
TELLS = 2.0  # natural logarithm from which a measure alone settles which of the two it is
TWINS = {"0", "O"}


def is_round(glyph: Glyph) -> bool:
    return glyph.char.upper() in TWINS


def round_weight(glyph: Glyph) -> float:
    """The weight of a character's being either of the two."""
    weights = ((glyph.char, glyph.weight), *glyph.others)
    return sum(weight for char, weight in weights if char.upper() in TWINS)


def weighed(glyph: Glyph, for_o: float) -> Glyph:
    """A 0 or O with what a measure says: ``for_o`` is the logarithm of how much likelier that is
    of an O. One that agrees with the network, or tells little against it, leaves its weights."""
    for_read = for_o if glyph.char.upper() == "O" else -for_o
    if for_read > -TELLS / 2:
        return replace(glyph, settled=for_read >= TELLS)
    weights = dict(glyph.others) | {glyph.char: glyph.weight}
    letter = "o" if glyph.char == "o" else "O"
    zero, o = (max(weights.get(char, 0.0), LEAST_WEIGHT) for char in ("0", letter))
    chance = 1 / (1 + math.exp(EYE * math.log(zero / o) - for_o))
    both = zero + o
    weights |= {"0": both * (1 - chance), letter: both * chance}
    char = letter if chance > 0.5 else "0"
    others = tuple((other, weight) for other, weight in weights.items() if other != char)
    settled = char != glyph.char and for_read <= -TELLS
    return replace(glyph, char=char, weight=weights[char], others=others, settled=settled)
