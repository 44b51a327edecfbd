"""How letters and figures stand together in a number."""

from collections.abc import Collection
from itertools import groupby, pairwise

from units.catalogue.domain.keys import match_key
from units.plates.domain.knowledge import shape_of
from units.plates.domain.likeness import TWINS


def with_change(key: str, at: int, char: str) -> str:
    """A match key with one of its characters changed."""
    return key[:at] + char + key[at + 1 :]


def edge_twins(key: str, begins: Collection[int] = (0,)) -> list[int]:
    """The places of a 0 or O where its twin would look as natural: where letters meet digits, and
    where a group of them ``begins``, which may have one letter."""
    return [
        at
        for at, char in enumerate(key)
        if char in TWINS
        and (at in begins or turns(with_change(key, at, TWINS[char])) <= turns(key))
    ]


def group_starts(text: str) -> set[int]:
    """Where in the match key of a printed number its groups begin: "KT-201 7" has three."""
    lengths = list(map(len, groups_of(text)))
    return {sum(lengths[:at]) for at in range(len(lengths))}


def groups_of(text: str) -> list[str]:
    """The letters and digits that stand together in a printed number, as match keys."""
    together = groupby(text, key=lambda char: bool(match_key(char)))
    return [match_key("".join(chars)) for is_sign, chars in together if is_sign]


def turns(key: str) -> int:
    """How often letters and digits take turns."""
    return sum(one != two for one, two in pairwise(shape_of(key)))
