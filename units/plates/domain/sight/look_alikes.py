"""Letters and figures that look alike told apart by measuring the print.

The reading network takes a letter among figures for the figure that looks like it, and the other
way about. What tells a 0 from an O, and an I, S or Z from its figure, is measured on the picture
and weighed against the network's word.
"""

from dataclasses import replace

import numpy as np

from units.plates.domain.sight.engine import Glyph, Print
from units.plates.domain.sight.rounds import rounds_for_o
from units.plates.domain.sight.standing import standing
from units.plates.domain.sight.symmetry import OF, symmetries_for_letter
from units.plates.domain.sight.twins import is_round, weighed
from units.plates.domain.sight.upright import upright


def tell_look_alikes(cut: np.ndarray, print_: Print) -> Print:
    """The same print with every such character weighed again, where it can be measured.

    ``cut`` is the line as it was read (BGR). A line without any figure is left alone.
    """
    chars = set(print_.text)
    if not any(map(str.isdigit, chars)) or not any(map(_looks_alike, print_.glyphs)):
        return print_
    seen = standing(upright(cut), print_)
    rounds, symmetries = rounds_for_o(seen, print_), symmetries_for_letter(seen, print_)
    if not any(rounds) and not any(symmetries):
        return print_
    glyphs = (
        _round(glyph, o) if is_round(glyph) else _symmetric(glyph, letter)
        for glyph, o, letter in zip(print_.glyphs, rounds, symmetries, strict=True)
    )
    return replace(print_, glyphs=tuple(glyphs))


def _looks_alike(glyph: Glyph) -> bool:
    return is_round(glyph) or glyph.char in OF


def _round(glyph: Glyph, for_o: float) -> Glyph:
    return weighed(glyph, "o" if glyph.char == "o" else "O", "0", for_o, trusted=False)


def _symmetric(glyph: Glyph, for_letter: float) -> Glyph:
    pair = OF.get(glyph.char)
    if pair is None or not for_letter:
        return glyph
    return weighed(glyph, pair.letter, pair.figure_of(glyph), for_letter, trusted=True)
