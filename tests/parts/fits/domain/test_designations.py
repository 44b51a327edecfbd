import pytest

from parts.fits.domain.designations import READERS, read_standard, stand_ins
from parts.fits.domain.reading import DesignationError


@pytest.mark.parametrize(
    ("text", "sort"),
    [
        ("8PJ1244", "belt"),
        ("6203-2Z", "bearing"),
        ("M8x20 cap", "screw"),
        ("5-15P C13 14 AWG", "cord"),
    ],
)
def test_every_sort_is_known_by_its_shape_and_stands_in_for_itself(text, sort):
    one = read_standard(text)
    assert (one.sort, one.designation, one.stand_ins[0]) == (sort, text, text)


def test_the_reader_that_came_furthest_says_what_is_wrong():
    with pytest.raises(DesignationError, match=r"character 6, “,”.*Known forms: 8PJ1244[^;]*\.$"):
        read_standard("8PJ12,4")


def test_where_none_came_further_the_forms_of_all_are_told():
    with pytest.raises(DesignationError) as refusal:
        read_standard("hello")
    assert refusal.value.places["at"] == 1
    assert refusal.value.places["forms"].count(";") == len(READERS) - 1


def test_what_is_no_designation_has_nothing_that_stands_in_for_it():
    assert stand_ins("") == stand_ins("running belt") == ()
