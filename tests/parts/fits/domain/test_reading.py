import pytest

from parts.fits.domain.reading import DesignationError, Reading


@pytest.fixture
def reading():
    return Reading("  ab12x ", "ab12")


def test_what_fits_is_read_in_capitals_and_what_does_not_is_left(reading):
    assert (reading.take("[a-z]{2}"), reading.take("[a-z]"), reading.take("[0-9]+")) == (
        "AB",
        "",
        "12",
    )
    assert reading.at == 4


def test_the_blamed_character_is_counted_from_one_without_the_blanks_before_it(reading):
    reading.need("ab")
    with pytest.raises(DesignationError, match="“ab12x”: character 3, “1”") as refusal:
        reading.need("[a-z]")
    assert (refusal.value.places["at"], refusal.value.reach) == (3, 2)


def test_what_is_left_over_is_blamed(reading):
    reading.need("ab12")
    with pytest.raises(DesignationError, match="character 5, “x”"):
        reading.end()


def test_a_text_that_ends_before_its_time_is_said_to(reading):
    reading.need("ab12x")
    reading.end()
    with pytest.raises(DesignationError, match="“ab12x” ends too soon"):
        reading.need("[0-9]")


def test_another_character_than_the_next_can_be_blamed(reading):
    reading.need("ab12")
    with pytest.raises(DesignationError, match="character 1, “a”"):
        reading.fail(0)
