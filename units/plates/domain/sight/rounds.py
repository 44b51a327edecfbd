"""A 0 told from an O by looking at the print once more.

The reading network sees one character at a time, and takes an O among figures for a 0. What tells
them apart depends on the typeface: a mark inside the 0, or the breadth of the O.
"""

import numpy as np

from units.plates.domain.sight.breadth import tell_by_breadth
from units.plates.domain.sight.engine import Print
from units.plates.domain.sight.marks import tell_by_marks
from units.plates.domain.sight.standing import standing
from units.plates.domain.sight.twins import is_round


def tell_rounds(cut: np.ndarray, print_: Print) -> Print:
    """The same print with every 0 and O weighed again, where it can be measured which it is.

    ``cut`` is the upright line as it was read (BGR).
    """
    if not any(map(is_round, print_.glyphs)):
        return print_
    seen = standing(cut, print_)
    return tell_by_breadth(seen, tell_by_marks(seen, print_))
