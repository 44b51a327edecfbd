"""Whether a notice speaks of a maker and of a kind of machine.

A label and the firm behind it go by many names; a notice counts as naming a maker when all the
words of that name which tell him from others stand in it.
"""

import re
from collections.abc import Iterable
from itertools import pairwise

from units.catalogue.domain.keys import match_key
from units.recalls.domain.notice import Notice

WORD = re.compile(r"[^\W_]+")
SEAT = re.compile(r",?\s+of\s+[A-Z].*", re.DOTALL)  # “Corvane Inc., of Aldermere, Ohio”
COMMON_WORDS = """INC INCORPORATED LLC LLP LTD LIMITED CO COMPANY CORP CORPORATION GMBH AG SA BV PTY
PLC THE OF AND A AN DBA FITNESS GYM SPORT SPORTS HEALTH WELLNESS EXERCISE EQUIPMENT PRODUCTS
INTERNATIONAL GLOBAL WORLDWIDE GROUP HOLDINGS INDUSTRIES INDUSTRIAL ENTERPRISES BRANDS
MANUFACTURING MFG TECHNOLOGY TECHNOLOGIES TECH SYSTEMS TRADING IMPORTS AMERICA AMERICAN USA US
NORTH"""
TELLS_NOTHING = frozenset(COMMON_WORDS.split())

# By the key of the kind: words of which one must stand in a notice about such a machine.
KIND_WORDS = {
    "treadmill": ("TREADMILL", "RUNNING MACHINE", "WALKING PAD", "WALKING MACHINE"),
    "elliptical": ("ELLIPTICAL", "CROSS TRAINER", "CROSSTRAINER", "STRIDER"),
    "upright-bike": ("BIKE", "CYCLE", "BICYCLE"),
    "recumbent-bike": ("BIKE", "CYCLE", "BICYCLE", "RECUMBENT"),
    "indoor-cycle": ("BIKE", "CYCLE", "BICYCLE", "SPIN"),
    "stair-climber": ("STAIR", "CLIMBER", "STEPPER", "STEP MACHINE"),
    "rower": ("ROWER", "ROWING"),
    "strength-machine": ("STRENGTH", "WEIGHT", "CABLE", "GYM", "PULLEY", "PRESS"),
}
ANY_KIND = ("EXERCISE MACHINE", "EXERCISE EQUIPMENT", "FITNESS EQUIPMENT", "FITNESS MACHINE")


def words_of(text: str) -> list[str]:
    """The words of a text as keys, in order."""
    return [key for word in WORD.findall(text) if (key := match_key(word))]


def telling_words(name: str) -> list[str]:
    """The words of a name that tell it from others; all of them when none does."""
    words = words_of(SEAT.sub("", name))
    return [word for word in words if word not in TELLS_NOTHING] or words


def names_in(notice: Notice) -> set[str]:
    """Keys of everything in a notice that may name a maker or a label."""
    found = set()
    for text in (*notice.parties, notice.title, *(one.name for one in notice.products)):
        words = words_of(text)
        # “Dun Marrow” and “Dunmarrow” are one name.
        found.update(words, map("".join, pairwise(words)))
    for text in (notice.description, notice.sold_at, *(one.description for one in notice.products)):
        capitals = (word for word in WORD.findall(text) if not word[0].islower())
        found.update(match_key(word) for word in capitals)
    return found - {""}


def keys_to_ask(makers: Iterable[str]) -> set[str]:
    """Of each maker the keys of which one must stand in a notice that names him."""
    found = set()
    for maker in makers:
        words = telling_words(maker)
        found.update(["".join(words), *words[:1]])
    return found


def is_named(maker: str, names: set[str]) -> bool:
    words = telling_words(maker)
    return bool(words) and ("".join(words) in names or names.issuperset(words))


def speaks_of(kind: str, text: str) -> bool:
    """Whether a text in capital letters speaks of this kind of machine; always of one unknown."""
    words = KIND_WORDS.get(kind)
    return words is None or any(word in text for word in (*words, *ANY_KIND))
