"""A set of findings as a file gives it, and rules and verdicts as plain values to write out."""

from collections.abc import Collection, Mapping
from dataclasses import asdict, dataclass

from units.inspections.domain.tables import gettext_noop, require, require_known, require_text
from units.inspections.domain.understanding import Pair, Rule, Verdict

SET_WORDS = {"kind", "population", "findings"}
FINDING_WORDS = {"component", "condition"}


@dataclass(frozen=True)
class FindingSet:
    """``population`` is empty where nobody said from where the machine comes."""

    kind: str
    population: str
    findings: tuple[Pair, ...]


def parse_findings(
    data, file: str, findable: Mapping[str, Collection[Pair]], populations: Collection[str]
) -> FindingSet:
    """Check ``{"kind", "population", "findings": [{"component", "condition"}]}``.

    ``findable`` holds, by kind, what its protocols can find. Raises TableError naming file and
    place of the first fault.
    """
    places = {"file": file, "row": gettext_noop("heading")}
    require(
        isinstance(data, dict) and isinstance(data.get("findings"), list),
        gettext_noop(
            "%(file)s: write an object with “kind” and a list of “findings”, each with “component”"
            " and “condition”."
        ),
        **places,
    )
    require_text(data, ["kind"], **places)
    require_known(data, SET_WORDS, "word of a set of findings", **places)
    require_known([data["kind"]], findable, "kind", **places)
    population = data.get("population") or ""
    require_known([population] if population else [], populations, "population", **places)
    known = findable[data["kind"]]
    found = tuple(
        _finding(row, {"file": file, "row": f"finding {place}"}, known)
        for place, row in enumerate(data["findings"], start=1)
    )
    return FindingSet(data["kind"], population, found)


def _finding(row, places, known: Collection[Pair]) -> Pair:
    require(
        isinstance(row, dict),
        gettext_noop("%(file)s, %(row)s: a finding is an object."),
        **places,
    )
    require_text(row, ["component", "condition"], **places)
    require_known(row, FINDING_WORDS, "word of a finding", **places)
    components = {component for component, _ in known}
    require_known([row["component"]], components, "component of this kind", **places)
    pair = (row["component"], row["condition"])
    may_be = sorted(condition for component, condition in known if component == pair[0])
    require(
        pair in known,
        gettext_noop(
            "%(file)s, %(row)s: “%(said)s” is nothing that is found on “%(component)s”. It"
            " may be: %(known)s."
        ),
        said=pair[1],
        component=pair[0],
        known=", ".join(may_be),
        **places,
    )
    return pair


def written_rule(rule: Rule) -> dict:
    """A rule as plain values, in the order in which a table is read."""
    return {
        "key": rule.key,
        "kinds": sorted(rule.kinds),
        "populations": sorted(rule.populations),
        "when": {
            word: [":".join(pair) for pair in sorted(getattr(rule, word))]
            for word in ("all", "any", "none")
            if getattr(rule, word)
        },
        "verdicts": dict(rule.verdicts),
        "pair": rule.pair,
        "severity": rule.severity,
        "hold": rule.hold,
        "because_of": sorted(rule.because_of),
        "over": sorted(rule.over),
        "reason": rule.reason,
        "caution": rule.caution,
        "checks": [asdict(check) for check in rule.checks],
        "source": rule.source,
    }


def written_verdict(verdict: Verdict) -> dict:
    return asdict(verdict) | {
        "because_of": list(verdict.because_of),
        "checks": [asdict(check) for check in verdict.checks],
    }
