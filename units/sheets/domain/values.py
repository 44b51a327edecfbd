"""What a cell may mean: a number, an amount of money, the cost of one piece, a day, or text."""

import re
from datetime import date
from decimal import Decimal

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
MOST = Decimal(10) ** 15  # no figure of a list; what is below it can be rounded to millionths
CENT, MILLIONTH = Decimal("0.01"), Decimal("0.000001")


def to_text(value: Value) -> str:
    if isinstance(value, Decimal):
        return f"{value.normalize():f}"
    return " ".join(str(value).split())


def to_number(value: Value) -> Decimal:
    """A plain number below a thousand million million. Raises ValueRefusedError.

    The last of both marks parts the fraction, and so does a mark that stands alone; but commas
    before three digits each, and several points, part thousands.
    """
    if not isinstance(value, Decimal):
        plain = _plain(re.sub(r"[\s'’_]", "", str(value)))
        if not NUMBER.fullmatch(plain):
            raise ValueRefusedError(gettext_noop("“%(text)s” is no number. Write it as 1234.50."))
        value = Decimal(plain)
    if not value.is_finite() or abs(value) >= MOST:
        raise ValueRefusedError(
            gettext_noop("“%(text)s” has more digits than a figure can have. Correct it.")
        )
    return value


def _plain(text: str) -> str:
    point, comma = text.rfind("."), text.rfind(",")
    if point >= 0 and comma >= 0:
        mark, other = (".", ",") if point > comma else (",", ".")
        return text.replace(other, "").replace(mark, ".")
    if comma >= 0:
        first, *rest = text.lstrip("+-").split(",")
        # Nobody writes 0 thousands: 0,125 is an eighth.
        thousands = all(len(part) == 3 for part in rest) and len(first) <= 3
        thousands = thousands and first[:1] not in {"", "0"}
        return text.replace(",", "" if thousands else ".")
    return text.replace(".", "") if text.count(".") > 1 else text


def to_money(value: Value) -> Decimal:
    """An amount, with or without its currency; brackets make it negative, as accountants write it.

    Raises ValueRefusedError, also for more than two decimal places.
    """
    amount = _amount(value)
    cents = amount.quantize(CENT)
    if cents != amount:
        raise ValueRefusedError(
            gettext_noop("“%(text)s” has more than two decimal places. Round it to cents.")
        )
    return cents


def to_unit_cost(value: Value) -> Decimal:
    """What one piece costs, written as money but to the millionth: screws cost fractions of a cent.

    Raises ValueRefusedError, also for more than six decimal places.
    """
    amount = _amount(value)
    if amount != amount.quantize(MILLIONTH):
        raise ValueRefusedError(
            gettext_noop("“%(text)s” has more than six decimal places. Round it to six.")
        )
    return amount


def _amount(value: Value) -> Decimal:
    if not isinstance(value, Decimal):
        text = CURRENCY.sub("", str(value)).strip()
        text = f"-{text[1:-1]}" if text.startswith("(") and text.endswith(")") else text
        value = text.removesuffix("-").strip()
    return to_number(value)


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
    "unit cost": to_unit_cost,
    "whole": to_whole,
    "day": to_day,
}
