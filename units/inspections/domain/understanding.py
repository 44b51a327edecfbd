"""What findings mean: a table of rules turned into one verdict a component.

Source of the method: common practice, no published source. The rows stand in
``fixtures/reference/rules.toml``.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

REPLACE, EXPECT, SERVICE, CLEAR, SUSPECT = "replace", "expect", "service", "clear", "suspect"
# The stronger act wins where rules meet on one component: what was seen goes before what was
# reasoned, and a component that was cleared is no longer suspected. What has to be counted with
# (expected, nobody has looked) goes before the little that was seen so far.
STRENGTH = (REPLACE, EXPECT, SERVICE, CLEAR, SUSPECT)

# How much it matters, worst first: it can hurt somebody; the machine cannot be used; left alone
# it ruins other components; it will have to be done; it is a blemish or asks for a look only.
DANGER, STOPS, SPREADS, WEARS, MINOR = SEVERITY = ("danger", "stops", "spreads", "wears", "minor")

NOT_POSSIBLE = "not-possible"
# A word that no step writes down: a pattern that asks whether anybody could look at a component.
SEEN = "seen"

Pair = tuple[str, str]


@dataclass(frozen=True)
class Check:
    """A next look or try: what to do, at which component, in so many minutes."""

    look: str
    component: str
    minutes: int


@dataclass(frozen=True)
class Rule:
    """A row of the table; ``all``, ``any`` and ``none`` hold (component, condition) pairs.

    ``kinds`` and ``populations`` empty mean every one. ``verdicts`` are (component, act) pairs. A
    rule with a ``pair`` speaks of components that are dealt with together or not at all.
    ``because_of`` names components whose wear is the cause of what this row speaks of; ``over``
    the rows that are silent on a component of which this row speaks. ``checks`` come cheapest
    first. ``caution`` is a sentence or empty.
    """

    key: str
    kinds: frozenset[str]
    all: frozenset[Pair]
    any: frozenset[Pair]
    none: frozenset[Pair]
    verdicts: tuple[Pair, ...]
    hold: bool
    reason: str
    caution: str
    source: str
    pair: str = ""
    severity: str = WEARS
    populations: frozenset[str] = frozenset()
    because_of: frozenset[str] = frozenset()
    checks: tuple[Check, ...] = ()
    over: frozenset[str] = frozenset()

    def fires(self, findings: frozenset[Pair], kind: str = "", population: str = "") -> bool:
        """Whether the row speaks. One of certain populations needs that population; one of
        certain kinds speaks also where the kind is not told."""
        if kind and self.kinds and kind not in self.kinds:
            return False
        if self.populations and population not in self.populations:
            return False
        return (
            self.all <= findings
            and (not self.any or bool(self.any & findings))
            and not self.none & findings
        )

    def causes(self, findings: frozenset[Pair]) -> frozenset[str]:
        """The components of ``because_of`` that were found in a state which this row names."""
        named = {component for component, _ in (self.all | self.any) & findings}
        return self.because_of & named


@dataclass(frozen=True)
class Verdict:
    """What to do about one component, and why; ``rule`` is the key of the row that says so.

    ``because_of`` are components whose own verdict belongs on the same estimate, since replacing
    this one alone repeats the failure.
    """

    component: str
    act: str
    hold: bool
    reason: str
    caution: str
    rule: str
    source: str
    pair: str
    severity: str = WEARS
    checks: tuple[Check, ...] = ()
    because_of: tuple[str, ...] = ()


def code_rule(
    key: str, at: str, suspects: Sequence[str], reason: str, *, caution: str, source: str
) -> Rule:
    """An error code as a row of its own: found (as ``key``) on the component that shows it, it
    makes its suspects worth a look. It says what was noticed, never what is broken."""
    return Rule(
        key=key,
        kinds=frozenset(),
        all=frozenset({(at, key)}),
        any=frozenset(),
        none=frozenset(),
        verdicts=tuple((component, SUSPECT) for component in suspects or [at]),
        hold=False,
        reason=reason,
        caution=caution,
        source=source,
        severity=MINOR,
    )


def with_seen(findings: Iterable[Pair]) -> frozenset[Pair]:
    """The findings, and of each component that somebody could look at that it was seen."""
    found = frozenset(findings)
    return found | {(component, SEEN) for component, said in found if said != NOT_POSSIBLE}


def verdicts(
    findings: Iterable[Pair], rules: Sequence[Rule], kind: str = "", population: str = ""
) -> list[Verdict]:
    """One verdict a component, holds first, then by strength of the act, then by the table.

    ``findings`` are (component, condition) pairs in any order, doubles allowed; ``population`` is
    where the machine comes from, empty where that is not told. Where several rules name a
    component the strongest act speaks (of two alike: one that holds, then the row that stands
    first); it holds if any of them does, and a pair stays named.
    """
    found = with_seen(findings)
    fired = [
        (place, rule) for place, rule in enumerate(rules) if rule.fires(found, kind, population)
    ]
    grouped: dict[str, list[tuple[tuple, Verdict]]] = {}
    for place, rule in fired:
        for number, (component, act) in enumerate(rule.verdicts):
            if not _silenced(rule, component, fired):
                rank = (STRENGTH.index(act), not rule.hold, place, number)
                said = (rank, _verdict(rule, component, act, found))
                grouped.setdefault(component, []).append(said)
    merged = [_merge(sorted(group, key=lambda row: row[0])) for group in grouped.values()]
    merged.sort(key=lambda row: (not row[1].hold, row[0]))
    return [verdict for _, verdict in merged]


def _silenced(rule: Rule, component: str, fired) -> bool:
    return any(
        rule.key in other.over and component in dict(other.verdicts) for _place, other in fired
    )


def _verdict(rule: Rule, component: str, act: str, found: frozenset[Pair]) -> Verdict:
    # What is only suspected has not failed, so nothing is the cause of it yet.
    causes = rule.causes(found) if act in (REPLACE, SERVICE) else frozenset()
    return Verdict(
        component=component,
        act=act,
        hold=rule.hold,
        reason=rule.reason,
        caution=rule.caution,
        rule=rule.key,
        source=rule.source,
        pair=rule.pair,
        severity=rule.severity,
        checks=rule.checks,
        because_of=tuple(sorted(causes - {component})),
    )


def _merge(ranked: list[tuple[tuple, Verdict]]) -> tuple[tuple, Verdict]:
    """The strongest says it; what another said of hold, pair, cause and severity stays."""
    rank, first = ranked[0]
    others = [verdict for _, verdict in ranked]
    return rank, replace(
        first,
        hold=any(verdict.hold for verdict in others),
        pair=next((verdict.pair for verdict in others if verdict.pair), ""),
        severity=min((verdict.severity for verdict in others), key=SEVERITY.index),
        because_of=tuple(sorted({one for verdict in others for one in verdict.because_of})),
    )
