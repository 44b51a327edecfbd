"""A 0 told from an O by looking at the print once more.

The reading network sees one character at a time, and takes an O among figures for a 0. What tells
them apart depends on the typeface: a mark inside the 0, or the breadth of the O. Both are measured,
and what they say is added up.
"""

from dataclasses import replace

import numpy as np

from units.plates.domain.sight.breadth import breadths_for_o
from units.plates.domain.sight.engine import Print
from units.plates.domain.sight.marks import marks_for_o
from units.plates.domain.sight.standing import standing
from units.plates.domain.sight.twins import is_round, weighed


def tell_rounds(cut: np.ndarray, print_: Print) -> Print:
    """The same print with every 0 and O weighed again, where it can be measured which it is.

    ``cut`` is the upright line as it was read (BGR).
    """
    if not any(map(is_round, print_.glyphs)):
        return print_
    seen = standing(cut, print_)
    marks = marks_for_o(seen, print_)
    breadths = breadths_for_o(seen, print_, marked=any(marks))
    for_o = [mark + breadth for mark, breadth in zip(marks, breadths, strict=True)]
    if not any(for_o):
        return print_
    glyphs = (
        weighed(glyph, told) if is_round(glyph) else glyph
        for glyph, told in zip(print_.glyphs, for_o, strict=True)
    )
    return replace(print_, glyphs=tuple(glyphs))
