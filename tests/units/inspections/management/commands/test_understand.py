import io
import json

import pytest
from django.core.management import CommandError, call_command

from units.inspections.selectors import understanding_rules

WORN = {
    "kind": "treadmill",
    "findings": [
        {"component": "deck", "condition": "grooved"},
        {"component": "motor-control-board", "condition": "burnt"},
    ],
}


def told(*words):
    out = io.StringIO()
    call_command("understand", *words, stdout=out)
    return out.getvalue()


@pytest.fixture
def file(tmp_path):
    def write(given):
        path = tmp_path / "found.json"
        path.write_text(given if isinstance(given, str) else json.dumps(given))
        return str(path)

    return write


def test_without_a_file_every_row_of_the_table_is_told():
    text = told()
    assert all(f"{rule.key}  [{rule.severity}]" in text for rule in understanding_rules())
    assert all(rule.reason in text for rule in understanding_rules())


def test_the_table_as_json_has_every_word_of_a_row():
    rows = {row["key"]: row for row in json.loads(told("--json"))}
    assert len(rows) == len(understanding_rules())
    assert rows["deck-worn"]["when"] == {"any": ["deck:grooved", "deck:worn-through"]}
    assert rows["board-over-friction"]["because_of"] == ["deck", "running-belt"]
    assert rows["club-deck-unseen"]["populations"] == ["club"]


def test_cause_and_consequence_are_told_together(file):
    """Common practice, no published source."""
    text = told(file(WORN))
    assert "replace motor-control-board  [stops]\n  because of: deck\n" in text
    assert "replace deck  [spreads]  [together: belt-and-deck]" in text
    assert "friction is the cause and the board a consequence" in text
    assert "next, 10 min: Turn the motor by hand" not in text


def test_the_verdicts_as_json(file):
    said = {row["component"]: row for row in json.loads(told(file(WORN), "--json"))}
    assert said["motor-control-board"]["because_of"] == ["deck"]
    assert said["deck"]["pair"] == said["running-belt"]["pair"] == "belt-and-deck"
    assert {"act", "reason", "severity", "hold", "caution", "checks", "source"} <= set(said["deck"])


def test_next_checks_come_cheapest_first(file):
    given = {"component": "motor-control-board", "condition": "acknowledged-no-motion"}
    said = json.loads(told(file(WORN | {"findings": [given]}), "--json"))
    minutes = [check["minutes"] for check in said[0]["checks"]]
    assert len(minutes) > 2
    assert minutes == sorted(minutes)


def test_a_club_machine_that_nobody_looked_at_is_expected_to_need_the_drives_set(file):
    """Common practice, no published source."""
    said = json.loads(
        told(file({"kind": "treadmill", "population": "club", "findings": []}), "--json")
    )
    assert {row["component"] for row in said} == {
        "running-belt",
        "deck",
        "drive-belt",
        "motor-brushes",
    }
    assert {row["act"] for row in said} == {"expect"}


def test_findings_of_which_no_rule_speaks_are_said_to_be_so(file):
    sound = {"component": "deck", "condition": "smooth"}
    assert told(file(WORN | {"findings": [sound]})) == "No rule speaks of these findings.\n"


def test_the_findings_may_come_on_the_standard_input(monkeypatch):
    monkeypatch.setattr("sys.stdin", io.StringIO(json.dumps(WORN)))
    assert "because of: deck" in told("-")


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ("{", "is not JSON: Expecting property name"),
        ("[]", "write an object with “kind” and a list of “findings”"),
        ({"kind": "treadmill"}, "write an object with “kind”"),
        (WORN | {"kind": "boat"}, "“boat” is not a known kind"),
        (WORN | {"kind": 3}, "“kind” is missing or not text"),
        (WORN | {"population": "fair"}, "“fair” is not a known population"),
        (WORN | {"colour": "red"}, "“colour” is not a known word of a set of findings"),
        (WORN | {"findings": ["deck"]}, "finding 1: a finding is an object"),
        (WORN | {"findings": [{"component": "deck"}]}, "finding 1: “condition” is missing"),
        (
            WORN | {"findings": [*WORN["findings"], {"component": "mast", "condition": "bent"}]},
            "finding 3: “mast” is not a known component of this kind",
        ),
        (
            WORN | {"findings": [{"component": "deck", "condition": "purple"}]},
            "“purple” is nothing that is found on “deck”. It may be: grooved, not-possible, smooth",
        ),
        (
            WORN | {"findings": [WORN["findings"][0] | {"note": "x"}]},
            "“note” is not a known word of a finding",
        ),
    ],
)
def test_a_faulty_file_is_answered_by_a_sentence(file, given, says):
    with pytest.raises(CommandError) as refusal:
        told(file(given))
    assert says in str(refusal.value)
    assert "found.json" in str(refusal.value)


def test_a_file_that_is_not_there_is_named():
    with pytest.raises(CommandError, match=r"nowhere\.json cannot be read"):
        told("nowhere.json")
