"""Lists of model and serial numbers out of a stretch of prose.

“TR-90, TR-95 & TR-100”, “: CV12, CV13 or CV14”, “from CV120000 through CV129999”.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from units.catalogue.domain.keys import match_key

TOKEN = re.compile(r"[^\W_](?:[\w.*/#-]*[^\W_])?|[^\w\s]")
CODE = re.compile(r"(?=.*\d)[A-Z0-9][A-Za-z0-9./#-]*|[A-Z]{2,}[A-Z./#-]*|[A-Z]")
STRONG = re.compile(r"(?=.*[A-Z])(?=.*\d)[A-Z0-9][A-Za-z0-9./#-]{2,}")
LONG_NUMBER = re.compile(r"(?!(?:19|20)\d\d$)\d{3,}")  # and no year
# Prices, quantities and measures: figures that name no machine.
AMOUNT = re.compile(
    r"\$\s?[\d,.]+|\b\d{1,3}(?:,\d{3})+\b|\b\d+[\s-]*(?:pounds?|lbs?|kg|inch(?:es)?|feet|volts?|units)\b",
    re.IGNORECASE,
)
TWO_IN_ONE = re.compile(r"([A-Za-z]*\d{3,})-([A-Za-z]*\d{3,})")
# “PPP + YYMM + 5 digits” tells how a serial is built; it is none.
LAYOUT = re.compile(
    r"\b[A-Z]{2,6}(?:\s*\+\s*(?:[A-Z]{1,6}|\d+[\s-]*(?:digits?|characters?)))+"
    r"|\b(?:YY|WW|MM|DD){2,3}\b"
)
APART = {",", ";", "&", "and", "or", "/"}
JOINS = {"through", "thru", "to", "until", "-", "–", "—"}
STARTS = {"begin", "begins", "beginning", "start", "starts", "starting", "prefix", "prefixes"}
ENDING = {"end", "ends", "ending"}
LEADING_WORDS = """: # " “ ” ' number numbers no nos range ranges of the a is are in includes
include included including following with that which from letter letters digit digits character
characters either affected recalled only has have having within all both code codes format formats
sequence sequences series"""
FILLERS = frozenset(LEADING_WORDS.split())


@dataclass(frozen=True)
class Item:
    """A code as printed, or two with what lies between; ``end`` is “begins”, “ends” or nothing.

    ``long`` is the code with the words of a trade name before it: “Stride 90”.
    """

    low: str
    high: str = ""
    end: str = ""
    long: str = ""


@dataclass(frozen=True)
class Listed:
    """What a stretch lists, and whether codes stand after the list that nothing explains."""

    items: tuple[Item, ...]
    leftover: bool


def listed(text: str) -> Listed:
    """The codes that a stretch of prose begins with, few filling words allowed before them."""
    tokens = TOKEN.findall(AMOUNT.sub(" ", LAYOUT.sub(" ", text)))
    reader = _Reader(tokens)
    items = tuple(reader.items())
    return Listed(items, any(map(may_name, tokens[reader.at :])))


def strong_codes(text: str) -> list[str]:
    """The keys of what in a text looks like a model or serial number beyond doubt."""
    return [match_key(token) for token in TOKEN.findall(text) if STRONG.fullmatch(token)]


def runs_of(text: str) -> set[str]:
    """The keys of every one to three neighbouring words: where a known number may stand."""
    tokens = TOKEN.findall(text)
    ends = range(1, 4)
    return {match_key("".join(tokens[at : at + end])) for at in range(len(tokens)) for end in ends}


def may_name(token: str) -> bool:
    """Whether a word may be a model or serial number."""
    return bool(STRONG.fullmatch(token) or LONG_NUMBER.fullmatch(token))


class _Reader:
    def __init__(self, tokens: list[str]):
        self.tokens, self.at = tokens, 0
        self.end, self.between = "", False

    def items(self) -> Iterator[Item]:
        self._skip()
        while (item := self._item()) is not None:
            yield item
            if self._peek() not in APART:
                return
            self._skip()

    def _peek(self) -> str:
        token = self.tokens[self.at] if self.at < len(self.tokens) else ""
        return token if CODE.fullmatch(token) else token.lower()

    def _skip(self) -> None:
        """Past what only leads to a code, noting what it says of it."""
        while word := self._peek():
            if word in STARTS or word in ENDING:
                self.end = "begins" if word in STARTS else "ends"
            elif word == "between":
                self.between = True
            elif word not in FILLERS and word not in APART:
                return
            self.at += 1

    def _item(self) -> Item | None:
        long, low = self._code()
        if not low:
            return None
        if (two := TWO_IN_ONE.fullmatch(low)) and len(two[1]) == len(two[2]):
            return Item(two[1], two[2], self.end)
        if self._peek() in JOINS or (self.between and self._peek() == "and"):
            stood = self.at
            self.at += 1
            _, high = self._code()
            if high:
                self.between = False
                return Item(low, high, self.end)
            self.at = stood
        return Item(low, "", self.end, long)

    def _code(self) -> tuple[str, str]:
        """The next code, with and without the words of a name before it; ``""`` if none comes."""
        stood, words, codes = self.at, [], []
        while self.at < len(self.tokens):
            token = self.tokens[self.at]
            if CODE.fullmatch(token):
                codes.append(token)
            elif not codes and len(words) < 3 and token[0].isupper():
                words.append(token)
            else:
                break
            self.at += 1
        if not codes:
            self.at = stood
            return "", ""
        short = "".join(codes)
        return " ".join([*words, *codes]), short


def keys_of(item: Item) -> set[str]:
    """The keys that an item's model may have: with and without its name and its revision."""
    found = {match_key(item.low), match_key(item.long)}
    return {key for key in found if key} | {match_key(without_revision(item.low))} - {""}


def without_revision(number: str) -> str:
    """A model number without the revision that some makers print behind it: “CVTL5981.2”."""
    return re.sub(r"(?<=\w{4})\.\d{1,2}$", "", number)
