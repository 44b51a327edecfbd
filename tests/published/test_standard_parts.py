"""Standard parts against published figures: REFERENCE, sections 1 to 3, each by its document.

Hex keys and small bearings are also held against the tables of bd_warehouse 0.4.0, installed with
no dependencies: ``pip install --no-deps bd_warehouse==0.4.0``.
"""

import csv
import re
from decimal import Decimal
from importlib import resources

import pytest

from parts.fits.domain.bearings import FIRST_BORES, SIZES, bore_of, of_sizes, read_bearing
from parts.fits.domain.belts import SECTIONS, frequency, read_belt, tension, to_inch, to_metric
from parts.fits.domain.screws import KEYS, Key, key_of, wrong_keys
from parts.fits.domain.tables import table

D = Decimal


# ISO 9982:2021, Table 2: pitch, its tolerance, groove angle. Makers' catalogues: the rest.
@pytest.mark.parametrize(
    ("name", "pitch", "tolerance", "thickness", "pulley", "mass"),
    [
        ("PH", "1.60", "0.03", ("2.5", "2.7"), 13, "0.005"),
        ("PJ", "2.34", "0.03", ("3.3", "3.8"), 20, "0.009"),
        ("PK", "3.56", "0.05", ("4.6", "5.0"), 45, "0.021"),
        ("PL", "4.70", "0.05", ("7.0", "7.5"), 75, "0.037"),
        ("PM", "9.40", "0.08", ("13.0", "14.5"), 180, "0.12"),
    ],
)
def test_iso_9982_table_2_and_the_catalogues(name, pitch, tolerance, thickness, pulley, mass):
    section = SECTIONS[name]
    assert section.inch == name[1]
    assert (section.pitch_mm, section.pitch_tolerance_mm) == (D(pitch), D(tolerance))
    assert (section.groove_degrees, section.least_pulley_mm) == (40, pulley)
    assert (section.thickness_mm, section.rib_mass_kg_per_m) == (tuple(map(D, thickness)), D(mass))


def test_the_one_section_on_whose_mass_catalogues_disagree_is_uncertain_by_30_per_cent():
    assert {name: row.mass_doubt for name, row in SECTIONS.items() if row.mass_doubt} == {
        "PK": D("0.30")
    }


# A maker's list of PJ belts: inch code, exact millimetres, millimetres as printed.
PRINTED = [
    ("150J", "381.00", 381), ("180J", "457.20", 457), ("200J", "508.00", 508),
    ("240J", "609.60", 610), ("285J", "723.90", 723), ("340J", "863.60", 864),
    ("400J", "1016.00", 1016), ("430J", "1092.20", 1092), ("460J", "1168.40", 1168),
    ("490J", "1244.60", 1244), ("540J", "1371.60", 1371), ("550J", "1397.00", 1397),
    ("690J", "1752.60", 1752), ("110J", "279.40", 280),
]  # fmt: skip


@pytest.mark.parametrize(("code", "exact", "printed"), PRINTED)
def test_the_makers_list_of_inch_codes_and_millimetres(code, exact, printed):
    belt = read_belt(f"{code}8")
    assert belt.length_mm == D(exact)
    assert to_metric(belt).designation == f"8PJ{printed}"
    assert to_metric(belt).near
    back = to_inch(read_belt(f"8PJ{printed}"))
    assert (back.designation, back.near) == (f"{code}8", True)


@pytest.mark.parametrize("length", [362, 1200, 1301, 1355, 1439])
def test_stocked_lengths_that_lie_near_no_inch_code_are_called_nearest(length):
    assert not to_inch(read_belt(f"8PJ{length}")).near


STOCKED = """
330 356 406 432 483 559 584 610 660 711 737 762 813 836 864 914 955 965 1016 1092 1110 1123 1130
1150 1168 1194 1200 1222 1244 1262 1270 1285 1301 1309 1316 1321 1333 1355 1371 1397 1428 1439 1475
1549 1600 1651 1663 1752 1780 1854 1895 1910 1915 1930 1956 1965 1981 1992 2083 2155 2210 2337 2489
"""


def test_the_catalogues_stock_lengths_are_all_there_and_no_others():
    named = {printed for _, _, printed in PRINTED} | {362}
    assert set(table("belts")["stock_mm"]["PJ"]) == set(map(int, STOCKED.split())) | named


def test_the_worked_page_of_tension_from_a_spans_sound():
    mass, span = D("0.11"), D("0.17")
    newtons = tension(mass, span, D(220))
    assert newtons.quantize(D("0.01")) == D("615.45")
    assert abs(newtons - 610) < 6  # the page prints 610
    hertz = frequency(mass, span, D(624))
    assert hertz.quantize(D("0.1")) == D("221.5")
    assert int(hertz) == 221  # the page prints 221


# DIN 625-1, by a public parts library.
DIN_625 = """
608 8x22x7 6000 10x26x8 6001 12x28x8 6002 15x32x9 6003 17x35x10 6004 20x42x12 6005 25x47x12
6006 30x55x13 6200 10x30x9 6201 12x32x10 6202 15x35x11 6203 17x40x12 6204 20x47x14 6205 25x52x15
6206 30x62x16 6207 35x72x17 6300 10x35x11 6301 12x37x12 6302 15x42x13 6303 17x47x14 6304 20x52x15
6305 25x62x17 6306 30x72x19
"""
BEARINGS = dict(re.findall(r"(\d+) (\d+x\d+x\d+)", DIN_625))


def test_din_625_lists_as_many_bearings_as_the_table():
    assert set(BEARINGS) == set(SIZES)


@pytest.mark.parametrize(("number", "sizes"), list(BEARINGS.items()))
def test_din_625_sizes_there_and_back(number, sizes):
    bearing = read_bearing(f"{number}-2Z")
    assert f"{bearing.bore_mm}x{bearing.outside_mm}x{bearing.width_mm}" == sizes
    assert of_sizes(*map(D, sizes.split("x"))) == [number]
    assert bore_of(number) in (None, bearing.bore_mm)


def test_the_rule_of_the_bore_code():
    assert FIRST_BORES == {"00": 10, "01": 12, "02": 15, "03": 17}
    assert [bore_of(f"62{code:02}") for code in range(4, 8)] == [20, 25, 30, 35]


def test_makers_names_for_seals():
    assert read_bearing("6203ZZ") == read_bearing("6203-2Z")
    assert read_bearing("6203-2RS1") == read_bearing("6203-2RS")


# ISO 4762, ISO 7380-1, ISO 10642, ISO 4026: threads, keys for cap, button, countersunk, set.
METRIC = [
    ("M4", "3 2.5 2.5 2"), ("M5", "4 3 3 2.5"), ("M6", "5 4 4 3"),
    ("M8", "6 5 5 4"), ("M10", "8 6 6 5"), ("M12", "10 8 8 6"),
]  # fmt: skip
# ASME B18.3, in the same order.
INCH = [
    ("1/4", "3/16 5/32 5/32 1/8"), ("5/16", "1/4 3/16 3/16 5/32"),
    ("3/8", "5/16 7/32 7/32 3/16"), ("1/2", "3/8 5/16 5/16 1/4"),
]  # fmt: skip
HEADS = ["cap", "button", "countersunk", "set"]


@pytest.mark.parametrize(("thread", "keys"), [*METRIC, *INCH])
def test_the_hex_keys_of_the_standards(thread, keys):
    assert [key_of(thread, head).written for head in HEADS] == keys.split()


def test_the_standards_list_as_many_threads_as_the_table():
    assert {thread for thread, _ in [*METRIC, *INCH]} == set(KEYS)


@pytest.mark.parametrize(
    ("millimetres", "inches", "difference", "happens"),
    [
        ("2", "5/64", "-0.016", "near"),
        ("4", "5/32", "-0.031", "near"),
        ("8", "5/16", "-0.0625", "near"),
        ("5", "3/16", "-0.2375", "loose"),
        ("2.5", "3/32", "-0.119", "loose"),
        ("1.5", "1/16", "0.0875", "too-large"),
        ("3", "1/8", "0.175", "too-large"),
        ("6", "1/4", "0.35", "too-large"),
    ],
)
def test_keys_that_are_easily_confused(millimetres, inches, difference, happens):
    (wrong,) = wrong_keys(Key(millimetres))
    assert wrong.key == Key(inches)
    assert (-wrong.slack_mm).quantize(D(difference)) == D(difference)
    assert wrong.happens == happens


def rows_of(name: str) -> list[dict[str, str]]:
    pytest.importorskip("bd_warehouse", reason="pip install --no-deps bd_warehouse==0.4.0")
    text = (resources.files("bd_warehouse") / "data" / name).read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


def by_thread(name: str, column: str) -> dict[str, str]:
    """Sockets by thread, whose pitches are all alike in this."""
    return {row["Size"].partition("-")[0]: row[column] for row in rows_of(name) if row[column]}


@pytest.mark.parametrize(
    ("name", "column", "head"),
    [
        ("socket_head_cap_parameters.csv", "iso4762:s ", "cap"),
        ("setscrew_parameters.csv", "iso4026:s", "set"),
    ],
)
def test_the_parts_librarys_metric_keys(name, column, head):
    theirs = by_thread(name, column)
    for thread, _ in METRIC:
        assert key_of(thread, head).across_mm == D(theirs[thread])


@pytest.mark.parametrize(
    ("name", "column", "head"),
    [
        ("button_head_parameters.csv", "iso7380_1:s", "button"),
        ("countersunk_head_parameters.csv", "iso10642:s", "countersunk"),
    ],
)
def test_the_parts_librarys_largest_sockets_take_no_larger_key(name, column, head):
    theirs = by_thread(name, column)
    standard = [D(key) for key in ["2", "2.5", "3", "4", "5", "6", "8", "10", "12"]]
    for thread, _ in METRIC:
        largest = max(key for key in standard if key <= D(theirs[thread]))
        assert key_of(thread, head).across_mm == largest


def test_the_parts_librarys_inch_keys_of_cap_screws():
    theirs = by_thread("socket_head_cap_parameters.csv", "asme_b18.3:s ")
    for thread, _ in INCH:
        assert key_of(thread, "cap").written == theirs[thread]


def test_the_parts_librarys_ball_bearings():
    rows = rows_of("single_row_deep_groove_ball_bearing_parameters.csv")
    theirs = {
        row["SKT:Designation"].strip("* "): tuple(row[f"SKT:{size}"] for size in "dDB")
        for row in rows
    }
    shared = set(theirs) & set(SIZES)
    assert shared >= {"608", "6000", "6200", "6300"}
    for number in shared:
        assert tuple(map(str, SIZES[number])) == theirs[number]
