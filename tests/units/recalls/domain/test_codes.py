import pytest

from units.recalls.domain.codes import (
    Item,
    keys_of,
    listed,
    runs_of,
    strong_codes,
    without_revision,
)


def codes(text: str) -> list[str]:
    return [f"{one.low}..{one.high}" if one.high else one.low for one in listed(text).items]


@pytest.mark.parametrize(
    ("text", "found"),
    [
        (" TR-90 & TR-95.", ["TR-90", "TR-95"]),
        (": TR-90, TR-95, and TR-100 treadmills", ["TR-90", "TR-95", "TR-100"]),
        (" 1000; 1200 or 1500 sold in stores", ["1000", "1200", "1500"]),
        (" TR-90/TR-95", ["TR-90/TR-95"]),
        (" from CV120000 through CV129999 are", ["CV120000..CV129999"]),
        (" CV120000 – CV129999", ["CV120000..CV129999"]),
        (" CV120000-CV129999", ["CV120000..CV129999"]),
        (" between CV1000 and CV2000.", ["CV1000..CV2000"]),
        (" CV1000 to CV2000 and CV3000 to CV4000", ["CV1000..CV2000", "CV3000..CV4000"]),
        (" beginning with CV12 or CV13", ["CV12", "CV13"]),
        (" that start with the letters “CV”", ["CV"]),
        (" is PPP + YYMM + 5 digits, from TRC1301 through TRC1406", ["TRC1301..TRC1406"]),
        (" are printed on label CV-9", []),
        (" Stride 90 ellipticals", ["90"]),
        ("", []),
    ],
)
def test_a_stretch_lists_its_codes(text, found):
    assert codes(text) == found


@pytest.mark.parametrize(
    ("text", "end"),
    [(" beginning with CV1", "begins"), (" ending in 12", "ends"), (" CV1", "")],
)
def test_a_list_says_of_which_end_it_speaks(text, end):
    assert [one.end for one in listed(text).items] == [end]


@pytest.mark.parametrize(
    ("text", "leftover"),
    [
        (" TR-90 treadmills, not TR-91", True),
        (" 1000 made here and 3000 made there", True),
        (" TR-90 sold from 2013 to 2015 for $1,299.", False),
        (" TR-90, about 19,900 of them, which weigh 250 pounds", False),
    ],
)
def test_codes_after_the_list_are_noticed_and_amounts_are_not(text, leftover):
    assert listed(text).leftover == leftover


def test_a_model_goes_by_its_code_with_and_without_its_name_and_revision():
    assert keys_of(Item("90", long="Stride 90")) == {"90", "STRIDE90"}
    assert keys_of(Item("CVTL5981.2", long="CVTL5981.2")) == {"CVTL59812", "CVTL5981"}


@pytest.mark.parametrize(
    ("number", "plain"), [("CVTL5981.2", "CVTL5981"), ("TR-90", "TR-90"), ("T9.5", "T9.5")]
)
def test_a_revision_is_cut_from_a_long_number_only(number, plain):
    assert without_revision(number) == plain


def test_codes_beyond_doubt_have_letters_and_figures():
    assert strong_codes("The TR-90 and 2013 and LCD and 12V") == ["TR90", "12V"]


def test_a_number_is_found_in_neighbouring_words_and_inside_none():
    found = runs_of("The Stride TR 90, and TR-95")
    assert {"TR90", "STRIDETR90", "TR95"} <= found
    assert "95" not in found
