import pytest

from units.plates.domain.proposal import Box
from units.plates.domain.snippets import ALONE, INLINE, Snippet
from units.plates.domain.supply import (
    find_made,
    find_supply,
    is_supply,
    made_from,
    says_date,
    says_supply,
)

BOX: Box = ((0, 0), (1, 0), (1, 1), (0, 1))


def piece(text, names="", confidence=0.99):
    return Snippet(text, (), INLINE if names else ALONE, names, 0, BOX, 20.0, confidence)


SUPPLIES = [
    ("120V~ 60Hz 15A", {"volts": "120", "hertz": "60", "amps": "15"}),
    ("120 VAC, 15 AMP, 60 HZ", {"volts": "120", "hertz": "60", "amps": "15"}),
    ("220-240 V 50/60 Hz 8,5 A", {"volts": "220-240", "hertz": "50/60", "amps": "8.5"}),
    ("VOLTS 208 AMPS 10.0 HERTZ 60", {"volts": "208", "hertz": "60", "amps": "10"}),
    ("额定电压 120 电流 12 频率 60", {"volts": "120", "amps": "12", "hertz": "60"}),
    ("100-240 UAC, 2 AMP", {"volts": "100-240", "amps": "2"}),  # a V of dots, misread
    ("MODEL T-310", {}),
    ("S/N KX12A60", {}),
    ("MAX 999V", {}),
]


@pytest.mark.parametrize(("text", "expected"), SUPPLIES)
def test_supply_is_read_from_its_many_spellings(text, expected):
    found = find_supply([piece(text)])

    assert {name: one.text for name, one in found.items()} == expected


DATES = [
    ("03/2019", "2019-03"),
    ("2019-03", "2019-03"),
    ("2019年3月", "2019-03"),
    ("MAR 2019", "2019-03"),
    ("14 Dez 2021", "2021-12"),
    ("03/14/2019", "2019-03"),
    ("14.03.2019", "2019-03"),
    ("Week 12 2019", "2019"),
    ("2019", "2019"),
    ("1234", ""),
    ("", ""),
]


@pytest.mark.parametrize(("text", "expected"), DATES)
def test_a_date_gives_its_month_or_its_year(text, expected):
    assert made_from(text) == expected


def test_a_day_that_may_be_a_month_leaves_only_the_year():
    assert made_from("03/04/2019") == "2019"


def test_only_a_date_beside_its_label_counts():
    dated = find_made([piece("2019-03", names="made"), piece("2021-05", names="other")])

    assert dated is not None
    assert dated.text == "2019-03"
    assert find_made([piece("2019-03")]) is None


@pytest.mark.parametrize(
    ("text", "says"),
    [("220-240", True), ("50/60", True), ("220-24050/60", True), ("220-240 50/60", True),
     ("220-24050", True), ("220-24051", False), ("ML220-240", False)],
)  # fmt: skip
def test_ranges_of_volts_and_hertz_are_a_supply_even_read_as_one(text, says):
    assert says_supply(text) is says


@pytest.mark.parametrize(
    ("text", "says"),
    [("120V", True), ("10 A60", True), ("120V~60Hz15A", True), ("AC 120V", True),
     ("115V 1PH", True), ("MAX15AMPS", True), ("220-240", True), ("123V90MC", False),
     ("CV201412345", False)],
)  # fmt: skip
def test_a_serial_in_which_volts_may_be_read_is_no_supply(text, says):
    assert is_supply(text) is says


@pytest.mark.parametrize(
    ("text", "says"),
    [("MAR 2019", True), ("03/2019", True), ("VHB1-2032", False), ("VOL-2015", False)],
)
def test_a_serial_in_which_a_month_may_be_read_is_no_date(text, says):
    assert says_date(text) is says
