import pytest

from tests.units.recalls.ground import notice
from units.recalls.domain.names import (
    is_named,
    keys_to_ask,
    names_in,
    speaks_of,
    telling_words,
)

SILENT = {"Title": "Treadmills Recalled", "Products": [], "Manufacturers": []}


@pytest.mark.parametrize(
    "name",
    ["Corvane", "corvane", "Corvane Fitness Inc.", "The Corvane Company", "Corvane, of Aldermere"],
)
def test_a_name_is_told_by_the_words_that_are_its_own(name):
    assert telling_words(name) == ["CORVANE"]


def test_a_name_of_common_words_keeps_them_all():
    assert telling_words("Fitness International") == ["FITNESS", "INTERNATIONAL"]


@pytest.mark.parametrize(
    "where",
    [
        {"Manufacturers": [{"Name": "Corvane Holdings Ltd., of Aldermere"}]},
        {"Importers": [{"Name": "CORVANE"}]},
        {"Distributors": [{"Name": "Corvane"}]},
        {"Title": "Corvane's Treadmills Recalled"},
        {"Products": [{"Name": "corvane treadmill"}]},
        {"Products": [{"Name": "treadmill", "Description": "with the Corvane label"}]},
        {"text": "This recall involves Corvane-branded treadmills."},
    ],
)
def test_a_maker_is_named_wherever_his_name_or_label_stands(where):
    said = SILENT | {"text": "Nothing."} | where
    assert is_named("Corvane", names_in(notice(**said)))


def test_a_maker_who_stands_nowhere_is_not_named():
    assert not is_named("Holmgate", names_in(notice()))


def test_two_words_and_one_are_the_same_name():
    said = notice(**SILENT | {"Title": "Dun Marrow Recalls Treadmills"})
    assert is_named("Dunmarrow", names_in(said))
    assert is_named("Dun-Marrow", names_in(said))


def test_part_of_a_name_is_not_the_name():
    said = notice(**SILENT | {"Title": "Corvane Recalls Treadmills"})
    assert not is_named("Corvane Stride", names_in(said))


def test_every_maker_that_is_named_is_found_by_the_keys_to_ask():
    for maker in ("Corvane", "Corvane Fitness", "Cor Vane"):
        assert is_named(maker, names_in(notice())) <= bool(
            keys_to_ask([maker]) & names_in(notice())
        )


@pytest.mark.parametrize(
    ("kind", "text", "speaks"),
    [
        ("treadmill", "FOLDING TREADMILLS", True),
        ("treadmill", "EXERCISE BIKES", False),
        ("rower", "ROWING MACHINES", True),
        ("strength-machine", "CABLE STATIONS", True),
        ("elliptical", "FITNESS EQUIPMENT", True),
        ("something-new", "LAMPS", True),
    ],
)
def test_a_notice_speaks_of_a_kind_by_its_words(kind, text, speaks):
    assert speaks_of(kind, text) == speaks
