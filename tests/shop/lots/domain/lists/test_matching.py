import pytest

from shop.lots.domain.lists.matching import LIKELY, SURE, Catalogue, Known
from tests.shop.lots.domain.lists.layouts import catalogue


def best(text, maker="", kind=""):
    found = catalogue().match(text, maker, kind)
    return found.best.model.number if found.best else None


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("Holmgate HG 7100", "HG 7100"),
        ("holmgate hg7100 treadmill", "HG 7100"),
        ("treadmill HOLMGATE HG-7100", "HG 7100"),
        ("Kestrow KS 50M", "KS 50M"),
        ("Kestrow KS 50 M indoor cycle", "KS 50M"),
        ("OM9500", "OM9500"),
        ("Ostramil OM 9500", "OM9500"),
        ("OM95OO", "OM9500"),
        ("Dunmarrow DM 210", "DM-210"),
    ],
)
def test_a_number_is_surely_known_however_it_is_written(text, number):
    found = catalogue().match(text)
    assert (found.best.model.number, found.is_sure) == (number, True)


@pytest.mark.parametrize(
    ("text", "maker", "kind", "number"),
    [
        ("7100", "Holmgate", "", "HG 7100"),
        ("7100", "", "treadmill", "HG 7100"),
        ("Corvane Stride", "", "", "T-420"),
        ("HG 7100x", "", "", "HG 7100"),
    ],
)
def test_part_of_a_number_or_a_trade_name_is_likely_and_not_sure(text, maker, kind, number):
    found = catalogue().match(text, maker, kind)
    assert best(text, maker, kind) == number
    assert not found.is_sure


def test_letters_before_the_digits_that_are_no_models_speak_against_it():
    assert catalogue().match("Zentora ZX 900 bike").best is None
    assert catalogue().match("the 7250 by the window").best.confidence >= LIKELY
    assert catalogue().match("TM 7250").best.confidence >= LIKELY


def test_of_two_trade_names_the_longer_is_meant():
    found = catalogue().match("Corvane Glide Plus")
    assert [one.model.number for one in found.candidates] == ["E-330"]


def test_a_digit_that_differs_makes_another_model():
    found = catalogue().match("Holmgate HG 7105")
    assert not found.is_sure
    assert found.best is None or found.best.confidence < 0.6


def test_a_number_of_the_wrong_kind_or_maker_is_not_sure():
    assert not catalogue().match("HG 7100 elliptical").is_sure
    assert not catalogue().match("Kestrow HG 7100").is_sure


def test_a_number_that_two_makers_have_needs_the_maker():
    two = Catalogue(
        [Known(1, "Corvane", "T-310", "treadmill"), Known(2, "Kestrow", "T310", "rower")]
    )
    assert not two.match("T310").is_sure
    assert two.match("T310", kind="rower").best.model.pk == 2
    assert two.match("Kestrow T310").is_sure


def test_another_name_of_a_maker_is_known_once_it_was_told():
    known = [Known(1, "Holmgate", "HG 7100", "treadmill")]
    assert Catalogue(known).match("Hg Fitness Works 7100").maker == ""
    told = Catalogue(known, aliases={"Fitness Works": "Holmgate"})
    assert told.match("Fitness Works 7100").maker == "Holmgate"
    assert told.match("Fitness Works 7100").best.confidence > 0.7


def test_what_a_person_once_said_of_a_text_is_remembered():
    known = [Known(1, "Holmgate", "HG 7100", "treadmill")]
    taught = Catalogue(known, learnt={"THEBIGONE": 1})
    found = taught.match("the big one")
    assert (found.best.model.pk, found.best.confidence >= SURE) == (1, True)


def test_a_text_that_names_nothing_has_no_candidate():
    assert catalogue().match("Prices are negotiable").candidates == ()
