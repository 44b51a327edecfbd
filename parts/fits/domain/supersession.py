"""Numbers that became other numbers: where a chain ends, and why it may not bite its tail.

A chain is a set of pairs ``(part, replaced by)``; a part may become several (a set sold apart)
and several may become one. What is asked never depends on the order of the pairs.
"""

from collections import defaultdict
from collections.abc import Hashable, Iterable, Mapping, Sequence

Pairs = Iterable[tuple[Hashable, Hashable]]


class CycleError(ValueError):
    """A pair that would close a ring; ``ring`` names it in order, from the part back to itself."""

    def __init__(self, ring: Sequence):
        super().__init__(" → ".join(map(str, ring)))
        self.ring = list(ring)


def require_no_ring(pairs: Pairs, part: Hashable, by: Hashable) -> None:
    """CycleError when ``part`` cannot become ``by`` because ``by`` became ``part`` already."""
    way = _shortest_way(_following(pairs), by, part)
    if way:
        raise CycleError([part, *way])


def later(pairs: Pairs, part: Hashable) -> list:
    """Every number that a part became, nearest first, each once, itself never."""
    return _onward(_following(pairs), part)


def later_of_each(pairs: Pairs, parts: Iterable[Hashable]) -> dict[Hashable, list]:
    """``{part: every number that it became}`` for many parts."""
    following = _following(pairs)
    return {part: _onward(following, part) for part in parts}


def earlier(pairs: Pairs, part: Hashable) -> list:
    """Every number that became this part, nearest first, each once, itself never."""
    return _onward(_following((by, one) for one, by in pairs), part)


def _onward(following: Mapping, part: Hashable) -> list:
    found, seen, ring = [], {part}, [part]
    while ring:
        ring = sorted({after for one in ring for after in following.get(one, ())} - seen)
        seen.update(ring)
        found += ring
    return found


def ends(pairs: Pairs, part: Hashable) -> list:
    """The numbers under which a part is to be had now: where its chain ends, or itself."""
    pairs = list(pairs)
    replaced = {one for one, _ in pairs}
    return [one for one in [part, *later(pairs, part)] if one not in replaced]


def _following(pairs: Pairs) -> Mapping:
    following = defaultdict(set)
    for part, by in pairs:
        following[part].add(by)
    return following


def _shortest_way(following: Mapping, start: Hashable, goal: Hashable) -> list:
    """From ``start`` to ``goal``, both named; empty when there is none."""
    came_from, ring = {start: None}, [start]
    while ring and goal not in came_from:
        onward = {}
        for one in ring:
            for after in sorted(following.get(one, ())):
                if after not in came_from:
                    onward.setdefault(after, one)
        came_from |= onward
        ring = sorted(onward)
    return _walked_back(came_from, goal) if goal in came_from else []


def _walked_back(came_from: Mapping, goal: Hashable) -> list:
    way, one = [], goal
    while one is not None:
        way.append(one)
        one = came_from[one]
    return way[::-1]
