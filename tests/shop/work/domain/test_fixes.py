"""Past fixes by symptom. Common practice, no published source."""

from datetime import date, timedelta

import pytest

from shop.work.domain.fixes import Fix, Symptom, Symptoms, by_symptom, symptoms

DAY = date(2026, 10, 5)
SLIPS = Symptom("slips", "belt slips", ("slip", "one side"))
NOISE = Symptom("noise", "makes a noise", ("squeak",))
FEW = Symptoms([SLIPS, NOISE], 90)


def fix(complaint="belt slips", outcome="repaired", days_ago=200, back_after=None, **other) -> Fix:
    closed = DAY - timedelta(days_ago)
    back = None if back_after is None else closed + timedelta(back_after)
    words = {"number": f"J{days_ago:05}", "closed_on": closed, "back_on": back} | other
    return Fix(complaint=complaint, outcome=outcome, **words)


@pytest.mark.parametrize(
    ("complaint", "symptom"),
    [
        ("The belt SLIPS under load", SLIPS),
        ("runs to one\n side", SLIPS),
        ("squeaks, then it slips", SLIPS),
        ("squeaky", NOISE),
        ("a cowslip grew on it", None),
        ("", None),
    ],
)
def test_the_first_row_of_which_a_word_begins_so_is_told(complaint, symptom):
    assert FEW.of(complaint) == symptom


@pytest.mark.parametrize(
    ("complaint", "key"),
    [
        ("Shows E7 error after two minutes", "code"),
        ("Trips the breaker when someone steps on it", "trips"),
        ("Belt hesitates at each step", "slips"),
        ("Incline stuck at the top", "incline"),
        ("Some keys are silent", "keys"),
        ("Console stays dark", "display"),
        ("Won’t start", "dead"),
        ("Loud knocking when pedalling", "noise"),
        ("Resistance does not change", "resistance"),
        ("Cable frayed at the pulley", "loose"),
        ("Annual service", None),
    ],
)
def test_the_words_of_a_counter_find_their_symptom(complaint, key):
    found = symptoms().of(complaint)
    assert (found and found.key) == key


def test_every_symptom_has_a_key_of_its_own_a_name_and_words():
    rows = symptoms().rows
    assert len({row.key for row in rows}) == len(rows) > 5
    assert all(row.name and row.words for row in rows)
    assert all(word == word.casefold() for row in rows for word in row.words)


def test_fixes_are_counted_by_symptom_the_most_frequent_first():
    belt, deck = ("running belt", "replaced"), ("deck", "serviced")
    fixes = [
        fix("squeaks", days_ago=10),
        fix(done=(belt, deck), days_ago=300),
        fix(done=(belt,), outcome="repaired", days_ago=20),
        fix(outcome="declined", days_ago=30),
        fix("tidy it up", days_ago=40),
        fix("tidy it up", days_ago=41),
        fix("tidy it up", days_ago=42),
        fix("tidy it up", days_ago=43),
    ]
    slips, noise, other = by_symptom(fixes, FEW, DAY)
    assert (slips.symptom, noise.symptom, other.symptom) == (SLIPS, NOISE, None)
    assert slips.outcomes == (("repaired", 2), ("declined", 1))
    assert slips.done == ((belt, 2), (deck, 1))
    assert [one.number for one in slips.fixes] == ["J00020", "J00030", "J00300"]


@pytest.mark.parametrize(
    ("fixes", "judged", "back"),
    [
        ([fix(days_ago=90)], 1, 0),
        ([fix(days_ago=89)], 0, 0),
        ([fix(days_ago=20, back_after=10)], 1, 1),
        ([fix(days_ago=200, back_after=90)], 1, 1),
        ([fix(days_ago=200, back_after=91)], 1, 0),
        ([fix(outcome="declined", back_after=5)], 0, 0),
        ([fix(), fix(back_after=3, days_ago=150), fix(days_ago=5)], 2, 1),
    ],
)
def test_a_repeat_is_a_repair_that_comes_back_in_time_among_those_that_could(fixes, judged, back):
    (record,) = by_symptom(fixes, FEW, DAY)
    assert (record.judged, record.back) == (judged, back)


def test_two_fixes_alike_are_two():
    (record,) = by_symptom([fix(back_after=2), fix(back_after=2)], FEW, DAY)
    assert (record.judged, record.back) == (2, 2)
