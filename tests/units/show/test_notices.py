from datetime import UTC, datetime, timedelta

import pytest
from django.contrib.messages import get_messages
from django.contrib.messages.storage.fallback import FallbackStorage
from django.test import RequestFactory

from units.show.notices import tell

NOON = datetime(2026, 11, 25, 12, 0, tzinfo=UTC)


@pytest.fixture
def request_with_messages():
    request = RequestFactory().post("/")
    request.session = {}
    request._messages = FallbackStorage(request)
    return request


def said(request) -> list[tuple[str, str]]:
    return [(message.level_tag, message.message) for message in get_messages(request)]


def test_what_this_request_wrote_is_said_as_done(request_with_messages):
    tell(request_with_messages, "Payment P00001 is taken.", written_at=NOON, at=NOON)
    assert said(request_with_messages) == [("success", "Payment P00001 is taken.")]


def test_what_an_earlier_request_wrote_is_not_said_as_done_now(request_with_messages):
    later = NOON + timedelta(minutes=3)
    tell(request_with_messages, "Payment P00001 is taken.", written_at=NOON, at=later)
    ((level, sentence),) = said(request_with_messages)
    assert level == "warning"
    assert sentence.startswith("This form was sent before, 25 Nov 2026, 12:00")
    assert "nothing was written again" in sentence
