"""What the cells of a seller's list say in figures: counts, quantities, hours, years, serials.

Sellers write as they speak: ``3 ea``, ``x2``, ``qty: 4 pcs``, ``two``, ``5 pairs``, ``600 lb``,
``20 x 45 lb``, ``3,412 hrs``, ``bought 2017``, ``ML100 / ML101``.
"""

import re
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from shop.lots.domain.lists.words import PAIR, PIECE, SET, is_one_of, measure_of, numbers
from units.catalogue.domain.keys import match_key
from units.sheets.domain.table import Value

MOST_COUNT = 2000
FIRST_YEAR, LAST_YEAR = 1980, 2040
MOST_HOURS = 200_000
LEADING = re.compile(
    r"^\s*[(\[]?\s*(\d{1,3})\s*(?:[)\]]|[x×*]|ea\b|each\b|pcs?\b|-\s)\s*(?=\S)", re.I
)
LEADING_BARE = re.compile(r"^\s*(\d{1,2})\s+(?=[A-Za-z])")
TIMES = re.compile(r"(?:^|[\s(,])[x×*]\s*(\d{1,3})\b\)?|\b(\d{1,3})\s*[x×](?=[\s)]|$)", re.I)
TRAILING = re.compile(
    r"[-–,(:]?\s*(?:qty\.?|quantity|count)?\s*[:=]?\s*\b(\d{1,3})\s*(?:ea|each|pcs?|pieces?|units?|"
    r"machines?|nos?\.?|off)\b\.?\)?\s*$", re.I)  # fmt: skip
QTY = re.compile(r"[-–,(]?\s*\b(?:qty\.?|quantity|count)\s*[:=]?\s*(\d{1,3})\b\)?", re.I)
BRACKETED = re.compile(r"\(\s*(\d{1,2})\s*\)\s*$")
WORDED = re.compile(r"^\s*([a-z]+)\s+(?:of\s+)?(?=\S)", re.I)
MASSES = re.compile(r"(\d+(?:[.,]\d+)?)\s*(lbs?|pounds?|kgs?|kilos?|kilograms?|#)(?![a-z])", re.I)
TIMES_MASS = re.compile(
    r"(\d{1,3})\s*(?:x|×|\*|of|pcs?|ea)\s*(\d+(?:[.,]\d+)?)\s*(lbs?|kgs?|pounds?|#)(?![a-z])", re.I
)
COUNTED = re.compile(
    r"(?:qty\.?|quantity|count)?\s*[:=]?\s*[x×*(]?\s*(-?[\d.,' ]*\d)\s*[x×*)]?\s*(.*)", re.I
)
HOURS = re.compile(r"(-?[\d.,' ]*\d)\s*(k)?\s*(?:h|hr|hrs|hour|hours|std)?\.?", re.I)
YEAR = re.compile(r"(?<!\d)((?:19|20)\d{2})(?!\d)")
SERIAL = re.compile(r"[A-Za-z0-9][A-Za-z0-9\-./]{3,59}")
DAY_LIKE = re.compile(r"\d{1,4}[-/.]\d{1,4}(?:[-/.]\d{1,4})?")
SPLIT = re.compile(r"[,;|\n&]+|\s+/\s+|\s+and\s+")


@dataclass(frozen=True)
class Amount:
    """How much of something: so many of a measure. ``pieces`` where a mass is told by the piece."""

    number: Decimal
    measure: str = PIECE
    pieces: int | None = None


def whole(text: str) -> Decimal | None:
    """A figure with whatever parts its thousands, or None."""
    bare = re.sub(r"[\s']", "", text)
    if re.fullmatch(r"-?\d{1,3}(?:[.,]\d{3})+", bare):
        bare = re.sub(r"[.,]", "", bare)
    bare = bare.replace(",", ".")
    return Decimal(bare) if re.fullmatch(r"-?\d+(?:\.\d+)?", bare) else None


def amount_of(value: Value | None) -> Amount | None:
    """What a cell of counts says, None where it says no amount."""
    if value is None or isinstance(value, date):
        return None
    if isinstance(value, Decimal):
        return _sensible(value, PIECE)
    text = " ".join(value.split())
    if found := _by_mass(text):
        return found
    if (words := text.casefold().strip(" .")) in numbers():
        return Amount(Decimal(numbers()[words]))
    first, _, rest = words.partition(" ")
    if first in numbers() and (measure := measure_of(rest)):
        return _sensible(Decimal(numbers()[first]), measure)
    match = COUNTED.fullmatch(text)
    number = whole(match[1]) if match else None
    if number is None:
        return None
    measure = measure_of(match[2]) if match[2].strip() else PIECE
    return _sensible(number, measure) if measure else None


def _by_mass(text: str) -> Amount | None:
    match = TIMES_MASS.search(text)
    if not match or (each := whole(match[2])) is None:
        return None
    return Amount(int(match[1]) * each, measure_of(match[3]), int(match[1]))


def _sensible(number: Decimal, measure: str) -> Amount | None:
    if measure == PAIR:
        number, measure = 2 * number, PIECE
    most = MOST_COUNT if measure in (PIECE, SET) else 100 * MOST_COUNT
    if not 0 < number <= most or (measure in (PIECE, SET) and number % 1):
        return None
    return Amount(number, measure)


def amount_in(name: str) -> tuple[Amount | None, str]:
    """An amount that stands amid a name, and the name without it: ``(2) Holmgate HG7250``."""
    if found := _by_mass(name):
        return found, name
    for pattern in (LEADING, QTY, TRAILING, BRACKETED, TIMES, LEADING_BARE):
        match = pattern.search(name)
        digits = match and next(filter(None, match.groups()))
        rest = (name[: match.start()] + " " + name[match.end() :]).strip() if match else ""
        found = _sensible(Decimal(digits), PIECE) if match else None
        if found and re.search(r"[^\W\d_]{2}", rest):
            return found, rest
    if (match := WORDED.match(name)) and match[1].casefold() in numbers():
        rest = name[match.end() :]
        number, measure = numbers()[match[1].casefold()], PIECE
        if second := WORDED.match(rest):
            measure = measure_of(second[1]) or PIECE
        return _sensible(Decimal(number), measure), rest
    return None, name


def mass_in(text: str) -> Amount | None:
    """The mass that a text of goods names, where it names one alone: ``approx 600 lb``."""
    found = MASSES.findall(text)
    number = whole(found[0][0]) if len(found) == 1 else None
    return _sensible(number, measure_of(found[0][1])) if number else None


def hours_of(value: Value | None) -> int | None:
    """Hours on the clock; None for what says none, a day or a year with words beside it."""
    if isinstance(value, Decimal):
        number = value
    elif isinstance(value, str) and (match := HOURS.fullmatch(" ".join(value.split()))):
        number = whole(match[1])
        number = number * 1000 if number is not None and match[2] else number
    else:
        return None
    return int(number) if number is not None and 0 <= number <= MOST_HOURS else None


def year_of(value: Value | None) -> int | None:
    """The year in a day, a number or a text, as far as machines of this trade go back."""
    if isinstance(value, date):
        year = value.year
    else:
        found = YEAR.findall(str(value))
        year = int(found[0]) if len(found) == 1 else 0
    return year if FIRST_YEAR <= year <= LAST_YEAR else None


def is_bare_year(value: Value | None) -> bool:
    """Whether a cell holds four digits that may be a year, and nothing that says what they are."""
    text = f"{value:f}" if isinstance(value, Decimal) else str(value).strip()
    return bool(re.fullmatch(r"(?:19|20)\d{2}", text)) and year_of(value) is not None


def serials_of(value: Value | None) -> tuple[str, ...]:
    """The serial numbers of one cell, in its order; ``n/a`` and the like are none."""
    if value is None or isinstance(value, date):
        return ()
    text = f"{value:f}" if isinstance(value, Decimal) else value
    parts = [part.strip(" .:#") for part in SPLIT.split(text)]
    parts = [re.sub(r"^(?:s/?n|serial(?: no)?)[\s.:#]*", "", part, flags=re.I) for part in parts]
    if len(parts) == 1 and all(map(_is_serial, words := parts[0].split())) and len(words) > 1:
        parts = words
    if len(parts) == 1 and parts[0].count("/") and all(map(_is_serial, cut := parts[0].split("/"))):
        parts = cut
    return tuple(part for part in parts if part and not is_one_of(part, "nothing"))


def _is_serial(text: str) -> bool:
    """Whether a text may be a serial: five letters and digits or more, three digits among them."""
    key = match_key(text)
    if DAY_LIKE.fullmatch(text):
        return False
    return bool(SERIAL.fullmatch(text)) and len(key) >= 5 and sum(c.isdigit() for c in key) >= 3


def looks_serial(value: Value | None) -> bool:
    found = serials_of(value)
    return bool(found) and all(map(_is_serial, found))
