import pytest

from units.inspections.domain.tables import Named, TableError, parse_cautions, parse_rules

RULE = {
    "key": "worn",
    "when": {"any": ["deck:grooved"], "none": ["deck:smooth"]},
    "verdicts": {"deck": "replace", "belt": "replace"},
    "reason": "It is worn.",
    "severity": "wears",
}
NAMED = Named({"deck", "belt"}, {"treadmill"}, {"heat": "It is hot."}, ("club",))
CHECK = {"look": "Look.", "component": "deck", "minutes": 5}


def parsed(*rows, source="common practice"):
    data = {"source": source, "rules": list(rows)}
    return parse_rules(data, "rules.toml", NAMED)


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
        ({"severity": ""}, "“severity” is missing"),
        ({"severity": "grave"}, "“grave” is not a known severity"),
        ({"hold": True}, "what is a danger holds the machine, and nothing else"),
        ({"severity": "danger"}, "what is a danger holds the machine, and nothing else"),
        ({"populations": ["fair"]}, "“fair” is not a known population"),
        ({"because_of": ["wheel"]}, "“wheel” is not a known component"),
        ({"over": ["nobody"]}, "“nobody” is not a known rule"),
        ({"checks": [CHECK | {"minutes": 0}]}, "how many minutes it takes"),
        ({"checks": [CHECK | {"look": ""}]}, "“look” is missing"),
        ({"checks": [CHECK | {"component": "wheel"}]}, "“wheel” is not a known component"),
        ({"checks": [CHECK | {"cost": 3}]}, "“cost” is not a known word of a check"),
    ],
)
def test_a_faulty_row_is_refused_with_file_row_and_fault(change, says):
    with pytest.raises(TableError) as refusal:
        parsed(RULE | change)
    assert says in str(refusal.value)
    assert str(refusal.value).startswith("rules.toml, worn")


def test_checks_come_cheapest_first_and_of_two_alike_the_earlier():
    rows = [CHECK, CHECK | {"look": "Ask.", "minutes": 1}, CHECK | {"look": "Look again."}]
    (rule,) = parsed(RULE | {"checks": rows})
    assert [check.look for check in rule.checks] == ["Ask.", "Look.", "Look again."]


def test_a_row_of_certain_populations_needs_nothing_found():
    (rule,) = parsed(RULE | {"populations": ["club"], "when": {"none": ["deck:seen"]}})
    assert rule.populations == {"club"}


def test_a_row_without_any_source_is_refused():
    with pytest.raises(TableError, match="“source” is missing"):
        parsed(RULE, source="")


def test_two_rows_of_one_key_are_refused():
    with pytest.raises(TableError, match="“worn” stands there twice"):
        parsed(RULE, RULE)


def test_an_empty_caution_is_refused():
    with pytest.raises(TableError, match="“heat” is missing"):
        parse_cautions({"cautions": {"heat": ""}}, "cautions.toml")
