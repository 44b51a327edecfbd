import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.people.domain import phones
from shop.people.domain.phones import PhoneError, parse_phone, show_phone


@pytest.mark.parametrize(
    "text",
    ["202 555 0114", "(202) 555-0114", "+1 202 555 0114", "1-202-555-0114", " 2025550114 "],
)
def test_every_way_of_writing_a_number_is_read_alike(text):
    assert parse_phone(text, "US") == "+12025550114"


def test_a_number_of_another_country_is_read_by_its_country_code():
    assert parse_phone("+44 20 7946 0114", "US") == "+442079460114"


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("1-202-FITNESS", phones.LETTERS),
        ("202 555 0114 ext 5", phones.LETTERS),
        ("", phones.UNREADABLE),
        ("---", phones.UNREADABLE),
        ("555 0114", phones.NO_AREA),
        ("12345", phones.TOO_SHORT),
        ("202 555 0114 0114", phones.TOO_LONG),
        ("+999 555 0114", phones.UNKNOWN_COUNTRY),
    ],
)
def test_what_is_no_number_is_refused_in_a_sentence(text, sentence):
    with pytest.raises(PhoneError) as refusal:
        parse_phone(text, "US")
    assert str(refusal.value) == sentence


def test_a_number_at_home_is_shown_without_its_country_code():
    assert show_phone("+12025550114", "US") == "(202) 555-0114"


def test_a_number_from_elsewhere_is_shown_with_its_country_code():
    assert show_phone("+12025550114", "GB") == "+1 202-555-0114"


def test_what_cannot_be_read_is_shown_as_it_stands():
    assert show_phone("", "US") == ""


@given(st.integers(100, 199))
def test_a_number_shown_is_read_back(last):
    number = f"+12025550{last}"
    assert parse_phone(show_phone(number, "US"), "US") == number


@given(st.text(max_size=30))
def test_any_text_is_either_a_number_or_refused(text):
    try:
        number = parse_phone(text, "US")
    except PhoneError:
        return
    assert number.startswith("+")
    assert number[1:].isdecimal()
