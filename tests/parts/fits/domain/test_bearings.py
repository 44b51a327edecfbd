from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.fits.domain.bearings import CLEARANCES, SEALS, SIZES, Bearing, bore_of, of_sizes
from parts.fits.domain.bearings import read_bearing as read
from parts.fits.domain.reading import DesignationError

basics = st.sampled_from(sorted(SIZES))


@pytest.mark.parametrize(
    ("text", "kept"),
    [
        ("6203", "6203"),
        ("6203ZZ", "6203-2Z"),
        ("6203-2z", "6203-2Z"),
        ("6203 2RS1 C3", "6203-2RS/C3"),
        ("6203 C3 2RS", "6203-2RS/C3"),
        ("6203-2RSH/CN", "6203-2RS"),
        ("6004 DDU", "6004-2RS"),
        ("608 RS", "608-RS"),
        ("608Z", "608-Z"),
    ],
)
def test_makers_spellings_of_one_bearing_are_kept_as_one(text, kept):
    assert read(text).designation == kept


def test_seals_and_clearance_change_no_size():
    sizes = {(b.bore_mm, b.outside_mm, b.width_mm) for b in map(read, ["6203", "6203-2RS/C3"])}
    assert sizes == {(17, 40, 12)}


@pytest.mark.parametrize(
    ("text", "at", "said"),
    [
        ("6203-2X", 6, "“2”, does not belong there"),
        ("6203-2RS-2Z", 10, "“2”, does not belong there"),
        ("6203-", 6, "ends too soon"),
        ("62O3", 3, "“O”, does not belong there"),
        ("62", 3, "ends too soon"),
        ("6208", 1, "its bore would be 40 mm"),
        ("6900", 1, "its bore would be 10 mm"),
        ("1204", 1, "no ball bearing of the table"),
        ("62030", 1, "no ball bearing of the table"),
    ],
)
def test_a_wrong_bearing_is_told_its_character_and_the_known_forms(text, at, said):
    with pytest.raises(DesignationError, match=f"{said}.*Known forms: 6203, ") as refusal:
        read(text)
    assert refusal.value.places["at"] == at


@given(basics, st.sampled_from(["", *sorted(SEALS)]), st.sampled_from(CLEARANCES))
def test_a_bearing_reads_back_as_itself(basic, spelled, clearance):
    one = read(f"{basic} {spelled} {clearance}")
    assert one == Bearing(basic, SEALS.get(spelled, ""), clearance)
    assert read(one.designation) == one
    assert one.stand_ins == (one.designation,)


@given(basics, st.tuples(*[st.decimals("-0.4", "0.4", places=2)] * 3))
def test_measured_sizes_lead_back_to_the_one_number(basic, off):
    measured = [size + more for size, more in zip(SIZES[basic], off, strict=True)]
    assert of_sizes(*measured) == [basic]


def test_sizes_of_no_bearing_lead_to_none():
    assert of_sizes(Decimal(17), Decimal(40), Decimal(13)) == []


@pytest.mark.parametrize(
    ("basic", "bore"), [("6000", 10), ("6303", 17), ("6204", 20), ("608", None), ("3204", None)]
)
def test_the_last_two_figures_tell_the_bore(basic, bore):
    assert bore_of(basic) == bore
