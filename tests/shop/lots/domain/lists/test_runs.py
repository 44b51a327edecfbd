"""Serial numbers written as a run or parted by a slash. How sellers write them is common practice,
no published source."""

import pytest

from shop.lots.domain.lists.runs import of_count, spoken_run


@pytest.mark.parametrize(
    ("serial", "count", "first", "last"),
    [
        ("RT-1001 to RT-1010", 10, "RT-1001", "RT-1010"),
        ("1001-1010", 10, "1001", "1010"),
        ("1001-10", 10, "1001", "1010"),
        ("OM95-0441 - OM95-0444", 4, "OM95-0441", "OM95-0444"),
        ("7300-1001-1004", 4, "7300-1001", "7300-1004"),
        ("KR8-101..KR8-105", 5, "KR8-101", "KR8-105"),
        ("KS44-098 thru ks44-101", 4, "KS44-098", "KS44-101"),
        ("RT 0098 – 0101", 4, "RT 0098", "RT 0101"),
        ("5100-301/5100-302", 2, "5100-301", "5100-302"),
    ],
)
def test_a_run_is_written_out_where_the_count_agrees(serial, count, first, last):
    found = of_count([serial], count)
    assert (len(found), found[0], found[-1]) == (count, first, last)
    assert len(set(found)) == count


@pytest.mark.parametrize(
    ("serial", "count"),
    [
        ("H7250-20114", 1),
        ("H7250-20114", 3),
        ("RT-1001 to RT-1010", 9),
        ("RT-1001 to KT-1010", 10),
        ("1010-1001", 10),
        ("KS-9/0012", 2),
    ],
)
def test_what_the_count_does_not_bear_out_stays_as_it_was_written(serial, count):
    assert of_count([serial], count) == (serial,)


def test_a_run_and_a_single_serial_go_together():
    assert of_count(["RT-1001 to RT-1003", "RT-1009"], 4) == (
        "RT-1001",
        "RT-1002",
        "RT-1003",
        "RT-1009",
    )


def test_only_words_dots_or_a_dash_amid_blanks_make_a_run_plain():
    assert len(spoken_run(["RT-1001 to RT-1010"])) == 10
    assert spoken_run(["1001-1010"]) == ()
    assert spoken_run(["RT-1001 to RT-1010", "RT-1012"]) == ()
