from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.fits.domain.belts import (
    SECTIONS,
    Belt,
    frequency,
    inch,
    metric,
    read_belt,
    ribs_of_width,
    substitutes,
    tension,
    tension_of,
    to_inch,
    to_metric,
)
from parts.fits.domain.reading import DesignationError

sections, ribs = st.sampled_from(sorted(SECTIONS)), st.integers(1, 99)
lengths, codes = st.integers(100, 9999), st.integers(100, 9999)


def belt(length, section="PJ", ribs=8):
    return Belt(section, ribs, Decimal(length))


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("8PJ1244", belt("1244")),
        ("1168 PJ-6", belt("1168", ribs=6)),
        ("4 PH 698", belt("698", "PH", 4)),
        ("490J8", belt("1244.60")),
        ("180J6", belt("457.20", ribs=6)),
        (" 490 j-8 ", belt("1244.60")),
        ("10PK1200", belt("1200", "PK", 10)),
    ],
)
def test_every_form_of_the_trade_is_read(text, read):
    assert read_belt(text) == read


@pytest.mark.parametrize(
    ("text", "at", "letter"),
    [
        ("8PX1244", 3, "X"),
        ("8PJ12,4", 6, ","),
        ("8PJ", 4, ""),
        ("8PJ12", 6, ""),
        ("", 1, ""),
        ("0PJ1244", 1, "0"),
        ("9999PJ123", 9, "3"),
        ("49J8", 3, "J"),
        ("490J8 M", 6, " "),
        ("8\uff30J1244", 2, "\uff30"),
        ("٨PJ1244", 1, "٨"),
    ],
)
def test_a_wrong_belt_is_told_its_character_and_the_known_forms(text, at, letter):
    with pytest.raises(DesignationError, match="Known forms: 8PJ1244, 1168 PJ-6, 490J8") as refusal:
        read_belt(text)
    assert (refusal.value.places["at"], refusal.value.places["letter"]) == (at, letter)


@given(sections, ribs, lengths)
def test_a_metric_belt_reads_back_as_itself(section, ribs, length):
    one = Belt(section, ribs, Decimal(length))
    assert read_belt(one.designation) == one
    assert read_belt(f"{length} {section}-{ribs}") == one


@given(sections, ribs, codes)
def test_an_inch_belt_reads_back_as_itself(section, ribs, code):
    one = read_belt(inch(section, ribs, Decimal(code)))
    assert one.length_mm == code * Decimal("2.54")
    assert read_belt(one.designation) == one
    assert to_inch(one).off_mm == 0


@given(sections, ribs, lengths, sections, ribs, lengths)
def test_one_stands_in_for_the_other_as_the_other_for_the_one(a, b, c, d, e, f):
    one, other = Belt(a, b, Decimal(c)), Belt(d, e, Decimal(f))
    assert substitutes(one, other) == substitutes(other, one)
    assert substitutes(one, one)


@given(ribs, st.integers(110, 9999), st.integers(-3, 3))
def test_the_spellings_that_stand_in_are_those_of_substitutes(ribs, length, more):
    one, other = Belt("PJ", ribs, Decimal(length)), Belt("PJ", ribs, Decimal(length + more))
    assert (other.designation in one.stand_ins) == substitutes(one, other)
    for spelling in one.stand_ins:
        assert substitutes(one, read_belt(spelling))


@pytest.mark.parametrize(
    ("one", "other", "serves"),
    [
        ("8PJ1244", "490J8", True),
        ("8PJ1244", "8PJ1245", True),
        ("8PJ1244", "8PJ1246", False),
        ("8PJ1244", "6PJ1244", False),
        ("8PJ1244", "8PH1244", False),
        ("400J8", "8PJ1016", True),
        ("8PJ1243", "490J8", False),
    ],
)
def test_what_stands_in_has_the_section_the_ribs_and_nearly_the_length(one, other, serves):
    assert substitutes(read_belt(one), read_belt(other)) is serves


def test_another_tolerance_may_be_given():
    assert substitutes(belt(1244), belt(1249), tolerance_mm=Decimal(5))


def test_a_section_without_a_stock_list_keeps_its_own_millimetres():
    named = to_metric(read_belt("478K6"))
    assert (named.designation, named.near) == ("6PK1214", True)


def test_a_length_that_is_stocked_nowhere_near_gets_the_nearest():
    named = to_metric(belt(1060))
    assert (named.designation, named.off_mm, named.near) == ("8PJ1092", Decimal(32), False)


def test_a_whole_length_in_both_systems_has_one_spelling():
    assert read_belt("400J8").designation == "8PJ1016" == metric("PJ", 8, Decimal("1016.00"))


@pytest.mark.parametrize(
    ("section", "width", "count"),
    [("PJ", "18.7", 8), ("PJ", "14.1", 6), ("PK", "21.4", 6), ("PH", "0.5", 0)],
)
def test_ribs_are_the_width_by_the_pitch(section, width, count):
    assert ribs_of_width(section, Decimal(width)) == count


@pytest.mark.parametrize(("section", "doubtful"), [("PK", True), ("PJ", False)])
def test_a_tension_says_how_sure_the_mass_of_its_section_is(section, doubtful):
    found = tension_of(belt(1244, section), Decimal("0.3"), Decimal(60))
    assert (found.least < found.newtons < found.most) is doubtful


@given(st.integers(1, 500), st.integers(1, 900), st.integers(1, 2000))
def test_tension_and_frequency_undo_one_another(mass, span, hertz):
    mass, span = Decimal(mass) / 1000, Decimal(span) / 1000
    assert round(frequency(mass, span, tension(mass, span, Decimal(hertz))), 9) == hertz
