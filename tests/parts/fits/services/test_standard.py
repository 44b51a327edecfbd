import pytest

from parts.fits.models import Designation
from parts.fits.services import PartError, set_designation
from tests.factories.parts import PartFactory
from tests.factories.units import MORNING, PersonFactory

pytestmark = pytest.mark.django_db


def tell(part, text):
    return set_designation(part=part, text=text, by=PersonFactory(), at=MORNING)


@pytest.mark.parametrize(
    ("typed", "kept", "sort"),
    [
        (" 1244  PJ-8 ", "8PJ1244", "belt"),
        ("490J8", "490J8", "belt"),
        ("6203zz c3", "6203-2Z/C3", "bearing"),
        ("M8x20 ISO 4762", "M8x20 cap", "screw"),
        ("5-15p c13 14awg", "5-15P C13 14 AWG", "cord"),
    ],
)
def test_a_designation_is_kept_in_one_spelling_with_its_sort(typed, kept, sort):
    part = tell(PartFactory(), typed)
    assert (part.designation, part.sort) == (kept, sort)
    part.refresh_from_db()
    assert (part.designation, part.sort) == (kept, sort)
    said = Designation.objects.get()
    assert (said.part, said.typed, said.designation) == (part, " ".join(typed.split()), kept)


def test_an_empty_text_takes_the_designation_away_and_the_record_stays():
    part = tell(PartFactory(), "6203")
    part = tell(part, " ")
    assert (part.designation, part.sort) == ("", "")
    assert [one.designation for one in Designation.objects.order_by("pk")] == ["6203", ""]


def test_the_same_designation_told_twice_is_one_record():
    part = tell(PartFactory(), "6203-2Z")
    tell(part, "6203 ZZ")
    assert Designation.objects.count() == 1


@pytest.mark.parametrize(
    ("text", "said"),
    [("8PX1244", "character 3, “X”.*Known forms"), ("8PJ" + "1" * 90, "too long")],
)
def test_a_designation_that_does_not_read_is_refused_at_its_field(text, said):
    part = tell(PartFactory(), "6203")
    with pytest.raises(PartError, match=said) as refusal:
        tell(part, text)
    assert refusal.value.field == "designation"
    part.refresh_from_db()
    assert part.designation == "6203"
    assert Designation.objects.count() == 1
