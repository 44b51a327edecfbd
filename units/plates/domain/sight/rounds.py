"""A 0 told from an O by looking at the print once more.

What tells them apart depends on the typeface: a mark inside the 0, or the breadth of the O. Both
are measured, and what they say is added up.
"""

from units.plates.domain.sight.breadth import breadths_for_o
from units.plates.domain.sight.engine import Print
from units.plates.domain.sight.marks import marks_for_o
from units.plates.domain.sight.standing import Standing


def rounds_for_o(seen: Standing, print_: Print) -> list[float]:
    """For each character the logarithm of how much likelier it is an O than a 0, by what can be
    measured; 0 where nothing can, or where it is neither."""
    marks = marks_for_o(seen, print_)
    breadths = breadths_for_o(seen, print_, marked=any(marks))
    return [mark + breadth for mark, breadth in zip(marks, breadths, strict=True)]
