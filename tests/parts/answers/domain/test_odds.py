import pytest

from parts.answers.domain.holding import Sequel
from parts.answers.domain.odds import Asked, learn, other_word, word_of


@pytest.mark.parametrize(
    ("status", "channel", "word"),
    [
        ("supported", "phone", "supported"),
        ("limited", "mail", "supported"),
        ("superseded", "phone", "supported"),
        ("back-ordered", "phone", "back-ordered"),
        ("supported", "listing", "listing"),
        ("back-ordered", "listing", "listing"),
        ("supported", "order", "supported"),
        ("ended", "notice", None),
        ("no-answer", "phone", None),
        ("not-asked", "", None),
    ],
)
def test_each_word_has_the_rate_of_its_kind(status, channel, word):
    assert word_of(status, channel) == word


@pytest.mark.parametrize(
    ("first", "then", "changed"),
    [
        ("supported", "limited", False),
        ("supported", "superseded", False),
        ("supported", "back-ordered", True),
        ("supported", "ended", True),
        ("back-ordered", "back-ordered", False),
        ("back-ordered", "supported", True),
    ],
)
def test_a_change_is_another_sense_not_another_shade(first, then, changed):
    assert other_word(first, then) is changed


def test_without_answers_a_back_order_ages_sooner_than_a_yes():
    odds = learn([], {})
    yes = odds.holds("supported", "phone", 90)
    assert odds.holds("back-ordered", "phone", 90) < odds.holds("supported", "listing", 90) < yes


def test_what_was_seen_of_listings_leaves_the_makers_words_alone():
    seen = [Sequel("listing", 30, changed=True)] * 40
    before, after = learn([], {}), learn(seen, {})
    assert after.holds("supported", "listing", 60) < before.holds("supported", "listing", 60) / 2
    assert after.holds("supported", "phone", 60) == before.holds("supported", "phone", 60)


def test_an_end_stays_as_likely_as_it_was_right():
    odds = learn([], {})
    assert odds.holds("ended", "phone", 4000) == pytest.approx(0.97)


def test_silence_is_no_word_that_could_hold():
    odds = learn([], {})
    assert odds.holds("no-answer", "phone", 3) == 0.0


@pytest.mark.parametrize(
    ("grade", "years", "share"),
    # The stated table of odds.toml: a shop default, common practice, no published source.
    [
        ("commercial", 5, 0.95),
        ("commercial", 5.1, 0.85),
        ("residential", 20, 0.10),
        ("residential", None, 0.4125),
        ("", 3, 0.55),
    ],
)
def test_a_model_never_asked_has_the_stated_share_of_its_grade_and_age(grade, years, share):
    assert learn([], {}).unasked(1, grade, years) == pytest.approx(share)


def test_a_makers_own_answers_move_the_share_of_its_other_models():
    odds = learn([], {(1, "commercial"): Asked(yes=0, asked=12)})
    assert odds.unasked(1, "commercial", 3) == pytest.approx(0.95 * 4 / 16)
    assert odds.unasked(2, "commercial", 3) == pytest.approx(0.95)
