"""Reading the tables of cautions and rules, and the checks that every table shares.

Everything takes what a TOML reader returned and gives plain values, or raises ``TableError``
naming the file and the row. Sentences are marked here and translated by whoever shows them.
"""

from collections.abc import Collection, Mapping

from units.inspections.domain.understanding import STRENGTH, Rule

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
}


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


def parse_cautions(data: Mapping, file: str) -> dict[str, str]:
    """``{key: sentence}`` in the order of the file."""
    cautions = dict(data.get("cautions", {}))
    for key in cautions:
        require_text(cautions, [key], file=file, row="cautions")
    return cautions


def parse_rules(
    data: Mapping, file: str, components: Collection[str], kinds: Collection[str], cautions: Mapping
) -> tuple[Rule, ...]:
    """The rules in the order of the file, which is the order in which they win."""
    rows = data.get("rules", [])
    require_once([row.get("key", "") for row in rows], file=file)
    return tuple(
        _rule(row, data.get("source", ""), file, components, kinds, cautions) for row in rows
    )


def _rule(row, source, file, components, kinds, cautions) -> Rule:
    row = {"source": source, **row}
    places = {"file": file, "row": row.get("key", "?")}
    require_text(row, ["key", "reason", "source"], **places)
    require_known(row, RULE_WORDS, "word of a rule", **places)
    require_known(row.get("kinds", []), kinds, "kind", **places)
    if row.get("caution"):
        require_known([row["caution"]], cautions, "caution", **places)
    acts = row.get("verdicts", {})
    require_known(acts, components, "component", **places)
    require_known(acts.values(), STRENGTH, "act", **places)
    require(
        acts and (not row.get("pair") or len(acts) > 1),
        gettext_noop("%(file)s, %(row)s: a rule says what to do, a pair rule of at least two."),
        **places,
    )
    when = {
        word: _pairs(row.get("when", {}).get(word, []), components, places)
        for word in ("all", "any", "none")
    }
    require(
        when["all"] or when["any"],
        gettext_noop("%(file)s, %(row)s: the rule needs something found before it can fire."),
        **places,
    )
    return Rule(
        key=row["key"],
        kinds=frozenset(row.get("kinds", [])),
        verdicts=tuple(acts.items()),
        hold=row.get("hold", False),
        reason=row["reason"],
        caution=cautions.get(row.get("caution", ""), ""),
        source=row["source"],
        pair=row.get("pair", ""),
        **when,
    )


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
