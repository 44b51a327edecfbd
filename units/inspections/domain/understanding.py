"""What findings mean: a table of rules turned into one verdict a component.

Source of the method: common practice, no published source. The rows stand in
``fixtures/reference/rules.toml``.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

REPLACE, SERVICE, CLEAR, SUSPECT = "replace", "service", "clear", "suspect"
# The stronger act wins where rules meet on one component: what was seen goes before what was
# reasoned, and a component that was cleared is no longer suspected.
STRENGTH = (REPLACE, SERVICE, CLEAR, SUSPECT)


@dataclass(frozen=True)
class Rule:
    """A row of the table; ``all``, ``any`` and ``none`` hold (component, condition) pairs.

    ``kinds`` empty means every kind. ``verdicts`` are (component, act) pairs. A rule with a
    ``pair`` speaks of components that are dealt with together or not at all. ``caution`` is a
    sentence or empty.
    """

    key: str
    kinds: frozenset[str]
    all: frozenset[tuple[str, str]]
    any: frozenset[tuple[str, str]]
    none: frozenset[tuple[str, str]]
    verdicts: tuple[tuple[str, str], ...]
    hold: bool
    reason: str
    caution: str
    source: str
    pair: str = ""

    def fires(self, findings: frozenset[tuple[str, str]], kind: str = "") -> bool:
        if kind and self.kinds and kind not in self.kinds:
            return False
        return (
            self.all <= findings
            and (not self.any or bool(self.any & findings))
            and not self.none & findings
        )


@dataclass(frozen=True)
class Verdict:
    """What to do about one component, and why; ``rule`` is the key of the row that says so."""

    component: str
    act: str
    hold: bool
    reason: str
    caution: str
    rule: str
    source: str
    pair: str


def verdicts(
    findings: Iterable[tuple[str, str]], rules: Sequence[Rule], kind: str = ""
) -> list[Verdict]:
    """One verdict a component, holds first, then by strength of the act, then by the table.

    ``findings`` are (component, condition) pairs in any order, doubles allowed. Where several
    rules name a component the strongest act speaks (of two alike: one that holds, then the row
    that stands first); it holds if any of them does, and a pair stays named.
    """
    found = frozenset(findings)
    grouped: dict[str, list[tuple[tuple, Verdict]]] = {}
    for place, rule in enumerate(rules):
        if rule.fires(found, kind):
            for number, (component, act) in enumerate(rule.verdicts):
                rank = (STRENGTH.index(act), not rule.hold, place, number)
                grouped.setdefault(component, []).append((rank, _verdict(rule, component, act)))
    merged = [_merge(sorted(group, key=lambda row: row[0])) for group in grouped.values()]
    merged.sort(key=lambda row: (not row[1].hold, row[0]))
    return [verdict for _, verdict in merged]


def _verdict(rule: Rule, component: str, act: str) -> Verdict:
    return Verdict(
        component, act, rule.hold, rule.reason, rule.caution, rule.key, rule.source, rule.pair
    )


def _merge(ranked: list[tuple[tuple, Verdict]]) -> tuple[tuple, Verdict]:
    rank, first = ranked[0]
    others = [verdict for _, verdict in ranked]
    hold = any(verdict.hold for verdict in others)
    pair = next((verdict.pair for verdict in others if verdict.pair), "")
    return rank, replace(first, hold=hold, pair=pair)
