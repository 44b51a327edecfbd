import pytest
from hypothesis import given
from hypothesis import strategies as st

from units.catalogue.domain.keys import LONGEST_SERIAL, SerialError, clean_serial, match_key


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("CV-10 23/b", "CV1023B"),
        ("cv1023B", "CV1023B"),
        ("  Corvane  ", "CORVANE"),
        ("Müller & Söhne", "MULLERSOHNE"),
        ("\uff23\uff36\uff11\uff10", "CV10"),
        ("straße", "STRASSE"),
        ("–—·", ""),
        ("", ""),
    ],
)
def test_key_keeps_letters_and_digits_in_upper_case(text, key):
    assert match_key(text) == key


@given(st.text())
def test_key_of_a_key_is_itself(text):
    assert match_key(match_key(text)) == match_key(text)


@given(st.text(), st.sampled_from(["-", " ", "/", ".", "_", "\t"]), st.integers(0, 20))
def test_a_separator_anywhere_changes_no_key(text, separator, place):
    parts = text[:place], text[place:]
    assert match_key(separator.join(parts)) == "".join(match_key(part) for part in parts)


@given(st.text(alphabet=st.characters(codec="ascii")))
def test_case_changes_no_key_of_plain_letters(text):
    assert match_key(text.lower()) == match_key(text.upper())


@pytest.mark.parametrize(
    ("text", "serial"),
    [
        ("CV000123", "CV000123"),
        ("  CV 000   123\n", "CV 000 123"),
        ("\tCV000123\r\n", "CV000123"),
        ("x" * 60, "x" * 60),
        ("", ""),
    ],
)
def test_serial_is_kept_as_it_stands_but_for_spaces(text, serial):
    assert clean_serial(text) == serial


@pytest.mark.parametrize("text", [" ", "   ", "\t\n", "---", " . / ", "\u00a0"])
def test_serial_without_letter_or_digit_is_refused(text):
    with pytest.raises(SerialError, match="has letters or digits"):
        clean_serial(text)


@pytest.mark.parametrize("text", ["CV\x00123", "CV\u200b123", "CV\x1b[2J", "CV\u202e123", "\x00"])
def test_serial_with_a_character_nobody_sees_is_refused(text):
    with pytest.raises(SerialError, match="cannot be seen"):
        clean_serial(text)


@pytest.mark.parametrize("text", ["x" * 61, "1 " * 40, "ﷺ" * 10])
def test_serial_of_more_than_60_characters_is_refused(text):
    with pytest.raises(SerialError, match="at most 60"):
        clean_serial(text)


@given(st.text())
def test_a_cleaned_serial_is_refused_or_clean_for_good(text):
    try:
        serial = clean_serial(text)
    except SerialError:
        return
    assert clean_serial(serial) == serial
    assert len(serial) <= LONGEST_SERIAL
    assert bool(match_key(serial)) == bool(serial)
