"""Letters and figures that look alike told apart by measuring the print.

The reading network takes a letter among figures for the figure that looks like it, and the other
way about. What tells a 0 from an O, and an I, S, Z or B from its figure, is measured on the picture
and weighed against the network's word.
"""

from dataclasses import replace

import numpy as np

from units.plates.domain.sight.engine import Glyph, Print
from units.plates.domain.sight.rounds import rounds_for_o
from units.plates.domain.sight.standing import standing
from units.plates.domain.sight.symmetry import OF, symmetries_for_letter
from units.plates.domain.sight.twins import is_round, weighed

# How far the network's own word counts beside a measure, by trial on the tuning families: of a 0 or
# O it knows little, the others it mostly sees.
EYE_FOR_ROUNDS, EYE = 0.5, 0.5


def tell_look_alikes(cut: np.ndarray, print_: Print) -> Print:
    """The same print with every such character weighed again, where it can be measured.

    ``cut`` is the upright line as it was read (BGR).
    """
    if not any(is_round(glyph) or glyph.char in OF for glyph in print_.glyphs):
        return print_
    seen = standing(cut, print_)
    rounds, symmetries = rounds_for_o(seen, print_), symmetries_for_letter(seen, print_)
    if not any(rounds) and not any(symmetries):
        return print_
    glyphs = (
        _round(glyph, o) if is_round(glyph) else _symmetric(glyph, letter)
        for glyph, o, letter in zip(print_.glyphs, rounds, symmetries, strict=True)
    )
    return replace(print_, glyphs=tuple(glyphs))


def _round(glyph: Glyph, for_o: float) -> Glyph:
    return weighed(glyph, "o" if glyph.char == "o" else "O", "0", for_o, EYE_FOR_ROUNDS)


def _symmetric(glyph: Glyph, for_letter: float) -> Glyph:
    pair = OF.get(glyph.char)
    if pair is None or not for_letter:
        return glyph
    return weighed(glyph, pair.letter, pair.figure_of(glyph), for_letter, EYE)
