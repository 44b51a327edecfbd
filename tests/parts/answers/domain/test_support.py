from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.answers.domain.support import Freshness, Said, support

# TRADE, parts answers: shop defaults, common practice, no published source.
RULES = {
    "phone": Freshness(180, 30),
    "mail": Freshness(180, 30),
    "notice": Freshness(180, 30),
}
DAY = date(2026, 3, 2)
NOON = datetime(2026, 3, 2, 12, tzinfo=UTC)


def said(number=1, status="supported", given_on=DAY, **more):
    defaults = {
        "given_by": "parts desk",
        "channel": "phone",
        "recorded_at": NOON + timedelta(days=(given_on - DAY).days),
        "counts_from": given_on,
    }
    return Said(id=number, status=status, given_on=given_on, **defaults | more)


def after(days):
    return DAY + timedelta(days=days)


def test_what_was_never_asked_is_not_asked():
    known = support([], DAY, RULES)
    assert (known.status, known.asked, known.known, known.fresh) == (
        "not-asked",
        False,
        False,
        False,
    )


def test_no_answer_was_asked_but_is_not_known():
    known = support([said(status="no-answer")], DAY, RULES)
    assert (known.status, known.asked, known.known, known.fresh) == (
        "no-answer",
        True,
        False,
        True,
    )


def test_the_newest_answer_decides_whatever_order_they_were_written_in():
    answers = [said(1, "ended", after(5)), said(2, "supported", after(1))]
    known = support(answers, after(9), RULES)
    assert (known.status, known.answer_id, known.age_days) == ("ended", 1, 4)


def test_of_two_answers_of_one_day_the_later_written_decides():
    answers = [
        said(1, "ended", recorded_at=NOON + timedelta(hours=1)),
        said(2, "supported", recorded_at=NOON),
    ]
    assert support(answers, DAY, RULES).status == "ended"


def test_a_withdrawn_answer_leaves_the_word_to_the_one_before():
    wrong = said(2, "ended", after(1), withdrawn_at=NOON + timedelta(days=3))
    assert support([said(1), wrong], after(4), RULES).answer_id == 1


def test_before_it_was_withdrawn_a_wrong_answer_was_what_was_known():
    wrong = said(2, "ended", after(1), withdrawn_at=NOON + timedelta(days=3))
    known = support([said(1), wrong], after(2), RULES, known_at=NOON + timedelta(days=2))
    assert known.answer_id == 2


def test_an_answer_written_down_late_was_not_known_before():
    late = said(1, recorded_at=NOON + timedelta(days=7))
    then = support([late], after(3), RULES, known_at=NOON + timedelta(days=3))
    assert then.status == "not-asked"
    assert support([late], after(3), RULES).status == "supported"


def test_an_answer_says_nothing_of_the_days_before_it_was_given():
    assert support([said(given_on=after(10))], after(9), RULES).status == "not-asked"


def test_a_published_end_decides_only_from_the_day_it_takes_effect():
    end = said(2, "ended", after(1), channel="notice", counts_from=after(20))
    answers = [said(1), end]
    assert support(answers, after(19), RULES).status == "supported"
    assert support(answers, after(20), RULES).status == "ended"


def test_a_yes_between_a_notice_and_its_day_does_not_outlive_that_day():
    end = said(1, "ended", DAY, channel="notice", counts_from=after(20))
    yes = said(2, "supported", after(10))
    assert support([end, yes], after(25), RULES).status == "ended"


@pytest.mark.parametrize(
    ("more", "last_fresh_day"),
    [
        ({}, after(180)),
        ({"channel": "mail"}, after(180)),
        ({"channel": "notice"}, after(180)),
        ({"status": "limited"}, after(180)),
        ({"status": "ended"}, after(180)),
        ({"status": "no-answer"}, after(180)),
        ({"status": "back-ordered"}, after(30)),
        ({"status": "back-ordered", "until": after(50)}, after(50)),
        ({"status": "back-ordered", "until": after(5)}, after(5)),
        ({"status": "back-ordered", "until": after(400)}, after(180)),
    ],
)
def test_an_answer_is_fresh_through_its_last_day_and_stale_on_the_next(more, last_fresh_day):
    answers = [said(**more)]
    assert support(answers, last_fresh_day, RULES).fresh
    stale = support(answers, last_fresh_day + timedelta(days=1), RULES)
    assert not stale.fresh
    assert stale.stale_from == last_fresh_day + timedelta(days=1)


def test_a_published_end_of_support_never_goes_stale():
    known = support([said(status="ended", channel="notice")], after(4000), RULES)
    assert (known.fresh, known.stale_from) == (True, None)


def test_a_rule_without_days_keeps_an_answer_fresh_for_ever():
    rules = RULES | {"phone": Freshness(None, None)}
    assert support([said()], after(4000), rules).fresh


def test_all_that_was_said_comes_with_the_status():
    answer = said(7, "back-ordered", until=after(9), warranty="yes", channel="mail")
    known = support([answer], after(2), RULES)
    assert (known.given_on, known.given_by, known.channel) == (DAY, "parts desk", "mail")
    assert (known.warranty, known.until, known.answer_id) == ("yes", after(9), 7)


days = st.integers(0, 400)
answers = st.builds(
    lambda number, status, given, late, channel, gone: said(
        number,
        status,
        after(given),
        channel=channel,
        recorded_at=NOON + timedelta(days=given + late),
        withdrawn_at=None if gone is None else NOON + timedelta(days=given + late + gone),
    ),
    st.integers(1, 1000),
    st.sampled_from(["supported", "limited", "back-ordered", "ended", "no-answer"]),
    days,
    st.integers(0, 30),
    st.sampled_from(list(RULES)),
    st.none() | st.integers(0, 60),
)


@given(st.lists(answers, max_size=8), answers, days, st.integers(1, 400))
def test_an_answer_written_today_never_changes_what_was_known_before(before, new, on, earlier):
    known_at = new.recorded_at - timedelta(seconds=earlier)
    then = support(before, after(on), RULES, known_at)
    assert support([*before, new], after(on), RULES, known_at) == then


@given(st.lists(answers, max_size=8), days)
def test_what_is_stale_is_never_fresh_again_by_waiting(said_so_far, on):
    known = support(said_so_far, after(on), RULES)
    later = support(said_so_far, after(on + 1), RULES)
    if known.asked and not known.fresh and later.answer_id == known.answer_id:
        assert not later.fresh
