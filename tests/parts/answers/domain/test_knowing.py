"""What was known yesterday does not change by what is written down today."""

from datetime import UTC, date, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from parts.answers.domain.support import Freshness, Said, support

CHANNELS = ["phone", "mail", "notice", "listing", "order"]
RULES = dict.fromkeys(CHANNELS, Freshness(180, 30))
START = date(2024, 1, 1)
NOON = datetime(2024, 1, 1, 12, tzinfo=UTC)

days = st.integers(0, 900)


@st.composite
def answers(draw, recorded=days):
    given_on, entered = draw(days), draw(recorded)
    withdrawn = draw(st.none() | recorded)
    at = NOON + timedelta(days=entered)
    return Said(
        id=draw(st.integers(1, 99)),
        status=draw(st.sampled_from(["supported", "limited", "back-ordered", "ended"])),
        given_on=START + timedelta(days=min(given_on, entered)),
        given_by="parts desk",
        channel=draw(st.sampled_from(CHANNELS)),
        recorded_at=at,
        counts_from=START + timedelta(days=given_on),
        breadth=draw(st.integers(0, 2)),
        withdrawn_at=None if withdrawn is None else max(at, NOON + timedelta(days=withdrawn)),
    )


@given(st.lists(answers(), max_size=6), st.lists(answers(st.integers(401, 900)), max_size=4), days)
def test_evidence_added_today_never_changes_what_was_known_yesterday(before, added, asked):
    yesterday = NOON + timedelta(days=400)
    on = START + timedelta(days=asked)
    known = support(before, on, RULES, yesterday)
    assert support([*before, *added], on, RULES, yesterday) == known


@given(st.lists(answers(), max_size=6), days)
def test_the_word_is_always_one_that_was_given_and_counts_that_day(before, asked):
    on = START + timedelta(days=asked)
    known = support(before, on, RULES)
    if known.asked:
        assert known.answer in before
        assert known.answer.counts_from <= on
        assert known.answer.withdrawn_at is None
    else:
        assert not [a for a in before if a.counts_from <= on and a.withdrawn_at is None]
