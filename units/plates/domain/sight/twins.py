"""A letter and the figure that looks like it as two readings of one character."""

import math
from dataclasses import replace

from units.plates.domain.sight.engine import Glyph

LEAST_WEIGHT = 2e-3
TELLS = 2.0  # natural logarithm from which a measure alone settles which of the two it is
ROUND = {"0", "O"}


def is_round(glyph: Glyph) -> bool:
    return glyph.char.upper() in ROUND


def round_weight(glyph: Glyph) -> float:
    """The weight of a character's being either a 0 or an O."""
    weights = ((glyph.char, glyph.weight), *glyph.others)
    return sum(weight for char, weight in weights if char.upper() in ROUND)


def weighed(glyph: Glyph, letter: str, figure: str, for_letter: float, eye: float) -> Glyph:
    """A character that is one of the two, with what a measure says.

    ``for_letter`` is the natural logarithm of how much likelier that is of the letter, ``eye`` how
    far the network's own word counts beside it. A measure that tells little leaves its weights.
    """
    for_read = -for_letter if glyph.char == figure else for_letter
    if abs(for_read) < TELLS / 2:
        return glyph
    weights = dict(glyph.others) | {glyph.char: glyph.weight}
    of_figure, of_letter = (max(weights.get(char, 0.0), LEAST_WEIGHT) for char in (figure, letter))
    chance = 1 / (1 + math.exp(eye * math.log(of_figure / of_letter) - for_letter))
    both = of_figure + of_letter
    weights |= {figure: both * (1 - chance), letter: both * chance}
    char = letter if chance > 0.5 else figure
    others = tuple((other, weight) for other, weight in weights.items() if other != char)
    settled = abs(for_letter) >= TELLS and (char == letter) == (for_letter > 0)
    return replace(glyph, char=char, weight=weights[char], others=others, settled=settled)
