"""Reading the tables of cautions and rules, and the checks that every table shares.

Everything takes what a TOML reader returned and gives plain values, or raises ``TableError``
naming the file and the row. Sentences are marked here and translated by whoever shows them.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from units.inspections.domain.understanding import DANGER, SEVERITY, STRENGTH, Check, Rule

RULE_WORDS = {
    "key",
    "kinds",
    "when",
    "verdicts",
    "hold",
    "reason",
    "caution",
    "source",
    "pair",
    "severity",
    "populations",
    "because_of",
    "checks",
    "over",
}
CHECK_WORDS = {"look", "component", "minutes"}


class TableError(ValueError):
    """A fault in a table: ``sentence`` with named ``places``, so that it can be translated."""

    def __init__(self, sentence: str, **places):
        super().__init__(sentence % places)
        self.sentence, self.places = sentence, places


def gettext_noop(sentence: str) -> str:
    """Marks a sentence for translation without doing it."""
    return sentence


def require(condition, sentence: str, **places):
    if not condition:
        raise TableError(sentence, **places)


def require_known(words: Collection[str], known: Collection[str], what: str, /, **places):
    """Refuse the first of ``words`` that is not known; ``what`` names the sort of word."""
    for word in words:
        require(
            word in known,
            gettext_noop("%(file)s, %(row)s: “%(word)s” is not a known %(what)s."),
            word=word,
            what=what,
            **places,
        )


def require_text(row: Mapping, words: Collection[str], /, **places):
    for word in words:
        require(
            isinstance(row.get(word), str) and row[word].strip(),
            gettext_noop("%(file)s, %(row)s: “%(word)s” is missing or not text."),
            word=word,
            **places,
        )


def require_once(keys: Collection[str], **places):
    seen = set()
    for key in keys:
        require(
            key not in seen,
            gettext_noop("%(file)s: the key “%(key)s” stands there twice."),
            key=key,
            **places,
        )
        seen.add(key)


def parse_words(data: Mapping, table: str, file: str) -> dict[str, str]:
    """``{key: sentence}`` of one table of a file, in its order."""
    words = dict(data.get(table, {}))
    for key in words:
        require_text(words, [key], file=file, row=table)
    return words


def parse_cautions(data: Mapping, file: str) -> dict[str, str]:
    """``{key: sentence}`` in the order of the file."""
    return parse_words(data, "cautions", file)


@dataclass(frozen=True)
class Named:
    """What a rule may name; ``cautions`` are sentences by key."""

    components: Collection[str]
    kinds: Collection[str]
    cautions: Mapping[str, str]
    populations: Collection[str] = ()


def parse_rules(data: Mapping, file: str, named: Named) -> tuple[Rule, ...]:
    """The rules in the order of the file, which is the order in which they win."""
    rows = data.get("rules", [])
    keys = [row.get("key", "") for row in rows]
    require_once(keys, file=file)
    rules = tuple(_rule(row, data.get("source", ""), file, named) for row in rows)
    for rule in rules:
        require_known(rule.over, keys, "rule", file=file, row=rule.key)
    return rules


def _rule(row, source, file, named: Named) -> Rule:
    row = {"source": source, **row}
    places = {"file": file, "row": row.get("key", "?")}
    _check_words(row, named, places)
    when = {
        word: _pairs(row.get("when", {}).get(word, []), named.components, places)
        for word in ("all", "any", "none")
    }
    populations = frozenset(row.get("populations", []))
    require(
        when["all"] or when["any"] or populations,
        gettext_noop("%(file)s, %(row)s: the rule needs something found before it can fire."),
        **places,
    )
    return Rule(
        key=row["key"],
        kinds=frozenset(row.get("kinds", [])),
        verdicts=tuple(row["verdicts"].items()),
        hold=row.get("hold", False),
        reason=row["reason"],
        caution=named.cautions.get(row.get("caution", ""), ""),
        source=row["source"],
        pair=row.get("pair", ""),
        severity=row["severity"],
        populations=populations,
        because_of=frozenset(row.get("because_of", [])),
        checks=_checks(row.get("checks", []), named.components, places),
        over=frozenset(row.get("over", [])),
        **when,
    )


def _check_words(row: Mapping, named: Named, places):
    require_text(row, ["key", "reason", "source", "severity"], **places)
    require_known(row, RULE_WORDS, "word of a rule", **places)
    require_known(row.get("kinds", []), named.kinds, "kind", **places)
    require_known(row.get("populations", []), named.populations, "population", **places)
    require_known([row["severity"]], SEVERITY, "severity", **places)
    require_known(row.get("because_of", []), named.components, "component", **places)
    if row.get("caution"):
        require_known([row["caution"]], named.cautions, "caution", **places)
    acts = row.get("verdicts", {})
    require_known(acts, named.components, "component", **places)
    require_known(acts.values(), STRENGTH, "act", **places)
    require(
        acts and (not row.get("pair") or len(acts) > 1),
        gettext_noop("%(file)s, %(row)s: a rule says what to do, a pair rule of at least two."),
        **places,
    )
    require(
        bool(row.get("hold")) == (row["severity"] == DANGER),
        gettext_noop("%(file)s, %(row)s: what is a danger holds the machine, and nothing else."),
        **places,
    )


def _checks(rows, components, places) -> tuple[Check, ...]:
    """The next looks, the cheapest first; of two alike the one that stands first."""
    for row in rows:
        require_text(row, ["look", "component"], **places)
        require_known(row, CHECK_WORDS, "word of a check", **places)
        require_known([row["component"]], components, "component", **places)
        require(
            isinstance(row.get("minutes"), int) and row["minutes"] > 0,
            gettext_noop("%(file)s, %(row)s: a check says how many minutes it takes."),
            **places,
        )
    return tuple(sorted((Check(**row) for row in rows), key=lambda check: check.minutes))


def _pairs(texts, components, places) -> frozenset[tuple[str, str]]:
    """``"deck:grooved"`` means that the deck was found grooved."""
    pairs = [tuple(text.partition(":")[::2]) for text in texts]
    require_known([component for component, _ in pairs], components, "component", **places)
    require(
        all(condition for _, condition in pairs),
        gettext_noop("%(file)s, %(row)s: write what was found as component:condition."),
        **places,
    )
    return frozenset(pairs)
