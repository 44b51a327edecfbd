"""Which mark parts the fraction of a column's figures: ``1.234`` is a thousand among ``12,50``.

A figure such as 1.234 or 1,234 may be either; the others of its column tell. Where none does, or
they contradict each other, each cell is read by itself.
"""

import re
from collections.abc import Iterable

from units.sheets.domain.values import CURRENCY, Value

FIGURES = {"number", "money", "unit cost", "whole"}
OTHER = {".": ",", ",": "."}
DIGITS = re.compile(r"[+-]?(\d+)([.,])(\d+)")
THOUSANDS = re.compile(r"[+-]?\d{1,3}(?:\.\d{3}){2,}|[+-]?\d{1,3}(?:,\d{3}){2,}")
EITHER = re.compile(r"[+-]?[1-9]\d{0,2}[.,]\d{3}")


def bare(value: Value) -> str:
    """The figure of a cell without currency, brackets and blanks; ``""`` for what is no text."""
    return re.sub(r"[\s'’_()]", "", CURRENCY.sub("", value)) if isinstance(value, str) else ""


def is_either(value: Value) -> bool:
    """Whether a cell alone does not tell if it means thousands or thousandths."""
    return bool(EITHER.fullmatch(bare(value)))


def mark_of(values: Iterable[Value]) -> str:
    """The mark before the fraction that every telling cell of a column agrees on, or ``""``."""
    told = {mark for value in values if (mark := _told(bare(value)))}
    return told.pop() if len(told) == 1 else ""


def _told(figure: str) -> str:
    if "." in figure and "," in figure:
        return max(".,", key=figure.rfind)
    if THOUSANDS.fullmatch(figure):
        return OTHER["." if "." in figure else ","]
    match = DIGITS.fullmatch(figure)
    return match[2] if match and not EITHER.fullmatch(figure) else ""


def pointed(value: Value, mark: str) -> Value:
    """A cell with a point before its fraction and nothing between thousands, by its column's mark;
    as it is where the column tells none."""
    if not mark or not isinstance(value, str):
        return value
    return value.replace(OTHER[mark], "").replace(mark, ".")
