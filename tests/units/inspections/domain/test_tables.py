import pytest

from units.inspections.domain.tables import TableError, parse_cautions, parse_rules

RULE = {
    "key": "worn",
    "when": {"any": ["deck:grooved"], "none": ["deck:smooth"]},
    "verdicts": {"deck": "replace", "belt": "replace"},
    "reason": "It is worn.",
}


def parsed(*rows, source="common practice"):
    data = {"source": source, "rules": list(rows)}
    return parse_rules(data, "rules.toml", {"deck", "belt"}, {"treadmill"}, {"heat": "It is hot."})


def test_a_row_takes_the_source_of_the_file_and_the_sentence_of_its_caution():
    (rule,) = parsed(RULE | {"caution": "heat"})
    assert (rule.source, rule.caution) == ("common practice", "It is hot.")
    assert rule.any == {("deck", "grooved")}
    assert rule.none == {("deck", "smooth")}


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"reason": " "}, "“reason” is missing"),
        ({"verdicts": {"wheel": "replace"}}, "“wheel” is not a known component"),
        ({"verdicts": {"deck": "burn"}}, "“burn” is not a known act"),
        ({"verdicts": {}}, "says what to do"),
        ({"verdicts": {"deck": "replace"}, "pair": "both"}, "a pair rule of at least two"),
        ({"kinds": ["boat"]}, "“boat” is not a known kind"),
        ({"caution": "ghosts"}, "“ghosts” is not a known caution"),
        ({"when": {"any": ["wheel:bent"]}}, "“wheel” is not a known component"),
        ({"when": {"any": ["deck"]}}, "component:condition"),
        ({"when": {"none": ["deck:smooth"]}}, "needs something found"),
        ({"raeson": "x"}, "“raeson” is not a known word of a rule"),
    ],
)
def test_a_faulty_row_is_refused_with_file_row_and_fault(change, says):
    with pytest.raises(TableError) as refusal:
        parsed(RULE | change)
    assert says in str(refusal.value)
    assert str(refusal.value).startswith("rules.toml, worn")


def test_a_row_without_any_source_is_refused():
    with pytest.raises(TableError, match="“source” is missing"):
        parsed(RULE, source="")


def test_two_rows_of_one_key_are_refused():
    with pytest.raises(TableError, match="“worn” stands there twice"):
        parsed(RULE, RULE)


def test_an_empty_caution_is_refused():
    with pytest.raises(TableError, match="“heat” is missing"):
        parse_cautions({"cautions": {"heat": ""}}, "cautions.toml")
