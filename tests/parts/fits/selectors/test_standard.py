import pytest

from parts.fits.domain.designations import read_standard
from parts.fits.selectors import known_of, standard_of
from parts.fits.services import set_designation
from tests.factories.parts import PartFactory
from tests.factories.units import MORNING, PersonFactory

pytestmark = pytest.mark.django_db


def standard(text, **said):
    part = PartFactory(**said)
    return set_designation(part=part, text=text, by=PersonFactory(), at=MORNING)


def told(text):
    (known,) = known_of([read_standard(text)])
    return dict(known.facts), known.cautions


def test_a_belt_tells_its_sizes_and_both_its_names():
    facts, _ = told("490J8")
    assert facts["Effective length"] == "1,244.6 mm"
    assert facts["Width"] == "18.72 mm"
    assert (facts["Metric"], facts["Inch"]) == ("8PJ1244", "490J8")


def test_a_belt_without_a_name_in_the_other_system_tells_the_nearest():
    facts, _ = told("8PJ1301")
    assert facts["Inch"] == "nearest 510J8, 5.6 mm shorter"
    assert told("8PJ1306")[0]["Inch"] == "nearest 515J8, 2.1 mm longer"


def test_a_bearing_tells_its_three_sizes_its_seals_and_its_clearance():
    facts, cautions = told("6203ZZ/C3")
    assert [facts["Bore"], facts["Outside diameter"], facts["Width"]] == ["17 mm", "40 mm", "12 mm"]
    assert facts["Seals"] == "shields on both sides"
    assert facts["Clearance inside"] == "more than normal (C3)"
    assert cautions == []


def test_a_screw_tells_its_key_and_what_the_wrong_one_does():
    facts, cautions = told("M6 cap")
    assert facts["Hex key"] == "5 mm"
    assert cautions == ["A 3/16 in key seems to fit and rounds the socket: 0.2375 mm of room."]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("M5 cap", "nearly as well"),
        ("5/16 cap", "rounds the socket"),
        ("1/4 button", "may jam"),
        ("M8 cap", "will not enter"),
    ],
)
def test_every_wrong_key_has_its_sentence(text, said):
    (sentence,) = told(text)[1]
    assert said in sentence


def test_a_cord_tells_both_its_ends_and_its_conductors():
    assert told("5-15P C13 14 AWG")[0] == {
        "Plug": "5-15P",
        "Coupler": "C13",
        "Conductors": "14 AWG",
    }


def test_our_parts_that_serve_stand_beside_it():
    same, wide = standard("8PJ1244"), standard("490J8")
    standard("6PJ1244")
    (known,) = known_of([read_standard("8PJ1244")])
    assert known.parts == [same, wide]


def test_a_part_is_told_the_others_alike_and_not_itself():
    part, other = standard("8PJ1244"), standard("490J8")
    assert standard_of(part).parts == [other]


def test_a_part_of_no_standard_tells_nothing(django_assert_num_queries):
    part = PartFactory()
    with django_assert_num_queries(0):
        assert standard_of(part) is None


def test_a_designation_that_its_table_lost_tells_nothing():
    assert standard_of(PartFactory(designation="6299", sort="bearing")) is None
