"""What a cell may mean: a number, an amount of money, a day, a yes, or text."""

import re
from datetime import date
from decimal import Decimal, InvalidOperation

from units.sheets.domain.table import Value


def gettext_noop(sentence: str) -> str:
    """Marks a sentence for translation; whoever shows it translates it."""
    return sentence


class ValueRefusedError(ValueError):
    """A cell that does not say what its column wants. Its text is a sentence with ``%(text)s``."""


CURRENCY = re.compile(r"[$€£¥]|\b[A-Z]{3}\b")
DAY_FIRST = re.compile(r"(\d{1,2})\.(\d{1,2})\.(\d{4})")
YEAR_FIRST = re.compile(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})")
SLASHED = re.compile(r"(\d{1,2})/(\d{1,2})/(\d{4})")
NUMBER = re.compile(r"[+-]?\d+(?:\.\d+)?")


def to_text(value: Value) -> str:
    if isinstance(value, Decimal):
        return f"{value.normalize():f}"
    return " ".join(str(value).split())


def to_number(value: Value) -> Decimal:
    """A plain number. A comma or point before exactly two final digits, or more than three, parts
    the fraction; before three digits it parts thousands. Raises ValueRefusedError."""
    if isinstance(value, Decimal):
        return value
    text = re.sub(r"[\s'’_]", "", str(value))
    plain = _plain(text)
    try:
        if not NUMBER.fullmatch(plain):
            raise InvalidOperation
        return Decimal(plain)
    except InvalidOperation as error:
        raise ValueRefusedError(
            gettext_noop("“%(text)s” is no number. Write it as 1234.50.")
        ) from error


def _plain(text: str) -> str:
    point, comma = text.rfind("."), text.rfind(",")
    if point >= 0 and comma >= 0:
        mark, other = (".", ",") if point > comma else (",", ".")
        return text.replace(other, "").replace(mark, ".")
    if comma >= 0:
        parts = text.split(",")
        thousands = all(len(part) == 3 for part in parts[1:]) and len(parts[0].lstrip("+-")) <= 3
        return text.replace(",", "" if thousands else ".")
    return text.replace(".", "") if text.count(".") > 1 else text


def to_money(value: Value) -> Decimal:
    """An amount, with or without its currency; brackets make it negative, as accountants write it.

    Raises ValueRefusedError, also for more than two decimal places.
    """
    if not isinstance(value, Decimal):
        text = CURRENCY.sub("", str(value)).strip()
        text = f"-{text[1:-1]}" if text.startswith("(") and text.endswith(")") else text
        value = to_number(text.removesuffix("-").strip())
    cents = value.quantize(Decimal("0.01"))
    if cents != value:
        raise ValueRefusedError(
            gettext_noop("“%(text)s” has more than two decimal places. Round it to cents.")
        )
    return cents


def to_whole(value: Value) -> int:
    """A whole number of at least 0. Raises ValueRefusedError."""
    number = to_number(value)
    if number != number.to_integral_value() or number < 0:
        raise ValueRefusedError(gettext_noop("“%(text)s” is no whole number. Write it as 12."))
    return int(number)


def to_day(value: Value) -> date:
    """A day. ``3/4/2026`` may be either of two days and is refused. Raises ValueRefusedError."""
    if isinstance(value, date):
        return value
    text = str(value).strip()
    try:
        if match := YEAR_FIRST.fullmatch(text):
            return date(*map(int, match.groups()))
        if match := DAY_FIRST.fullmatch(text):
            day, month, year = map(int, match.groups())
            return date(year, month, day)
        if match := SLASHED.fullmatch(text):
            return _slashed(*map(int, match.groups()))
    except ValueError as error:
        if isinstance(error, ValueRefusedError):
            raise
    raise ValueRefusedError(gettext_noop("“%(text)s” is no day. Write it as 2026-10-31."))


def _slashed(first: int, second: int, year: int) -> date:
    if first <= 12 and second <= 12 and first != second:
        raise ValueRefusedError(
            gettext_noop("“%(text)s” may be either of two days. Write it as 2026-10-31.")
        )
    return date(year, second, first) if first > 12 else date(year, first, second)


READERS = {
    "text": to_text,
    "number": to_number,
    "money": to_money,
    "whole": to_whole,
    "day": to_day,
}
