"""The words by which sellers' lists are read, from ``fixtures/reference/lists.toml``."""

import re
import tomllib
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from pathlib import Path

FILE = Path(__file__).parents[4] / "fixtures" / "reference" / "lists.toml"
PIECE, PAIR, SET, LB, KG, SQFT, SQM = "piece", "pair", "set", "lb", "kg", "sqft", "sqm"


@dataclass(frozen=True)
class Sort:
    """A sort of goods: how it is counted by default, what such a measure sells for in the shop's
    currency, and the kilograms of one piece."""

    measure: str
    rate: Decimal
    kilograms: Decimal


@cache
def table() -> dict:
    return tomllib.loads(FILE.read_text(encoding="utf-8"))


@cache
def headings() -> dict[str, tuple[str, ...]]:
    return {role: tuple(words) for role, words in table()["headings"].items()}


@cache
def goods() -> dict[str, Sort]:
    return {
        slug: Sort(row["measure"], Decimal(row["rate"]), Decimal(row["kilograms"]))
        for slug, row in table()["goods"].items()
    }


@cache
def measures() -> dict[str, str]:
    """``{how it is written: measure}``."""
    return {word: name for name, words in table()["measures"].items() for word in words}


def measure_of(text: str) -> str:
    """The measure that a word names, ``""`` for none."""
    said = text.casefold().strip(" .:()[]")
    return measures().get(said) or measures().get(said.rstrip("s")) or ""


@cache
def numbers() -> dict[str, int]:
    """``{word: number}``: two, pair, dozen."""
    said = table()["counts"]
    found = {word: number for number, word in enumerate(said["numbers"])}
    found |= dict.fromkeys(said["one"], 1) | dict.fromkeys(said["two"], 2)
    return found | dict.fromkeys(said["dozen"], 12)


def plain(text: str) -> str:
    """Small letters and digits, one space between words, no plural ``s`` at the end of a word."""
    return " ".join(map(_singular, re.findall(r"[^\W_]+", text.casefold())))


def _singular(word: str) -> str:
    if len(word) > 5 and word.endswith(("ches", "shes", "sses", "xes")):
        return word[:-2]
    return word[:-1] if len(word) > 3 and word[-1] == "s" else word


@cache
def _by_length(section: str) -> tuple[tuple[str, str], ...]:
    rows = table()[section]
    pairs = {
        (plain(word), slug)
        for slug, row in rows.items()
        for word in (row["words"] if isinstance(row, dict) else row)
    }
    return tuple(sorted(pairs, key=lambda pair: (-len(pair[0]), pair)))


def kind_in(text: str) -> str:
    """The kind of machine that a text names as whole words, the longest name first, or ``""``."""
    return _named(text, "kinds")


def kind_words(kind: str) -> set[str]:
    """Every word that stands in a name of a kind."""
    return {word for name in table()["kinds"].get(kind, ()) for word in plain(name).split()}


def goods_in(text: str) -> str:
    """The sort of goods that a text names, or ``""``."""
    return _named(text, "goods")


def _named(text: str, section: str) -> str:
    padded = f" {plain(text)} "
    return next((slug for word, slug in _by_length(section) if f" {word} " in padded), "")


def is_one_of(text: str, group: str) -> bool:
    """Whether a cell says no more than one of the words of ``[rows]``."""
    return " ".join(text.casefold().split()).rstrip(".:") in _group(group)


@cache
def _group(group: str) -> frozenset[str]:
    return frozenset(table()["rows"][group])


def is_total(text: str) -> bool:
    """Whether a cell heads a row of sums: ``TOTAL``, ``Total machines:``, ``Subtotal cardio``,
    ``bikes total``, ``GRAND TOTAL CARDIO``."""
    words = re.sub(r"[^a-z ]+", " ", text.casefold()).split()
    if not words or " ".join(words) in _group("total"):
        return bool(words)
    sums = {"total", "subtotal", "totals"}
    return not sums.isdisjoint((words[0], words[-1])) or words[:2] == ["grand", "total"]


def names_section(text: str) -> bool:
    return is_one_of(text, "section")
