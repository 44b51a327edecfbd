import pytest

from parts.fits.domain.cords import Cord, read_cord
from parts.fits.domain.reading import DesignationError


@pytest.mark.parametrize("text", ["5-15P C13 14 AWG", "5-15p/c13, 14awg"])
def test_a_cord_is_read(text):
    assert read_cord(text) == Cord("5-15P", "C13", 14)


def test_thicker_conductors_stand_in_for_thinner_ones_and_not_the_other_way():
    assert read_cord("5-20P C19 12 AWG").stand_ins == ("5-20P C19 12 AWG", "5-20P C19 10 AWG")


@pytest.mark.parametrize(
    ("text", "at"),
    [
        ("5-16P C13 14 AWG", 1),
        ("5-15P C131 14 AWG", 7),
        ("5-15P C13 15 AWG", 11),
        ("5-15P C13 14", 13),
        ("5-15P C13 14 AWG 2 m", 17),
    ],
)
def test_a_wrong_cord_is_told_its_character_and_the_known_form(text, at):
    with pytest.raises(DesignationError, match="Known forms: 5-15P C13 14 AWG") as refusal:
        read_cord(text)
    assert refusal.value.places["at"] == at
