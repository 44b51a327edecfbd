"""The words of ``answers/support.html``, which the pages of machines and models include."""

from datetime import date

import pytest
from django.template.loader import render_to_string

from parts.answers.domain.support import Support

SAID = {"given_on": date(2026, 10, 1), "given_by": "Dana", "age_days": 4, "answer_id": 1}


def words(**support):
    page = render_to_string("answers/support.html", {"support": Support(**support)})
    return " ".join(page.split())


def test_not_asked_is_a_state_of_its_own():
    assert '<span class="state">not asked</span>' in words(status="not-asked")


@pytest.mark.parametrize(
    ("status", "shape"),
    [
        ("supported", "state good"),
        ("limited", "state part"),
        ("back-ordered", "state watch"),
        ("ended", "state stop"),
    ],
)
def test_a_fresh_answer_shows_its_own_word(status, shape):
    page = words(status=status, fresh=True, channel="phone", **SAID)
    assert f'<span class="{shape}">{status}</span>' in page
    assert "Dana said so by telephone on 1 Oct 2026 (4 days ago)." in page


def test_a_call_that_nobody_answered_says_when_it_was_tried():
    page = words(status="no-answer", fresh=True, channel="phone", **SAID)
    assert '<span class="state">no answer</span>' in page
    assert "Asked on 1 Oct 2026 (4 days ago): Dana." in page


def test_a_stale_yes_is_called_stale_and_not_supported():
    page = words(status="supported", fresh=False, channel="mail", **SAID)
    assert '<span class="state watch">stale</span>' in page
    assert '<span class="state good">' not in page
    assert "Dana wrote so on 1 Oct 2026" in page
