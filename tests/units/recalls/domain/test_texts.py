from datetime import date

import pytest

from units.recalls.domain.texts import address, day, one_line, plain


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("2026-07-30T00:00:00", date(2026, 7, 30)),
        ("2026-07-30", date(2026, 7, 30)),
        ("January 15, 2024", date(2024, 1, 15)),
        ("", None),
    ],
)
def test_days_are_read_in_every_published_form(text, found):
    assert day(text) == found


@pytest.mark.parametrize("text", ["Janus 15, 2024", "February 30, 2024", "15 January 2024", "x"])
def test_any_other_day_is_an_error(text):
    with pytest.raises(ValueError, match=r"."):
        day(text)


def test_markup_and_unseen_characters_fall_away():
    assert plain("a&amp;b<br/>c\x00\u200b  d<script>e</script>") == "a&b\nc d e"


def test_a_smaller_sign_is_no_markup():
    assert plain("models < 5 and > 3") == "models < 5 and > 3"


@pytest.mark.parametrize("value", [None, [], {"a": 1}])
def test_what_is_no_text_is_nothing(value):
    assert plain(value) == ""


def test_one_line_has_no_breaks():
    assert one_line("a\n b\r\nc") == "a b c"


@pytest.mark.parametrize("text", ["javascript:x", "//host/x", "ftp://host", "http://[", ""])
def test_only_web_addresses_are_kept(text):
    assert address(text) == ""
