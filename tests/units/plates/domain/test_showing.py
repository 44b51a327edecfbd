import pytest

from tests.factories.plates import PLATE, a_proposal, blank, said
from units.plates.domain.proposal import Barcode, FieldName
from units.plates.domain.showing import (
    Likelihood,
    contradicting,
    is_blank,
    likelihood,
    settled,
    unsettled,
)


def coded(*texts: str):
    codes = tuple(Barcode("Code 128", text, PLATE) for text in texts)
    return a_proposal(said("serial", "CV26-0100"), barcodes=codes)


@pytest.mark.parametrize(
    ("probability", "word"),
    [
        (1, Likelihood.HIGH),
        (0.9, Likelihood.HIGH),
        (0.89, Likelihood.GOOD),
        (0.6, Likelihood.GOOD),
        (0.59, Likelihood.SOME),
        (0.2, Likelihood.SOME),
        (0.19, Likelihood.LOW),
        (0, Likelihood.LOW),
    ],
)
def test_a_probability_is_said_in_a_word(probability, word):
    assert likelihood(probability) is word


def test_only_what_is_sure_is_settled():
    proposal = a_proposal(said("serial", "CV1", "look"), said("volts", "120"), said("amps", ""))
    assert settled(proposal) == {"maker": "Corvane", "model": "TM-9", "volts": "120"}
    assert [field.name for field in unsettled(proposal)] == [FieldName.SERIAL]


def test_what_was_not_found_needs_a_look_in_the_order_of_a_plate():
    assert [field.name for field in unsettled(blank())] == ["maker", "model", "serial"]


def test_a_sure_field_without_a_text_needs_a_look():
    assert [field.name for field in unsettled(a_proposal(said("serial", "")))] == ["serial"]


def test_a_photo_without_plate_and_print_is_blank():
    assert is_blank(blank())
    assert not is_blank(a_proposal())
    assert not is_blank(a_proposal(plate=None))


@pytest.mark.parametrize("code", ["CV26-0101", "CV260I00", "CV26-010", "cv26 0700"])
def test_a_code_that_nearly_says_the_serial_contradicts_it(code):
    assert [one.text for one in contradicting(coded(code))] == [code]


@pytest.mark.parametrize(
    "code", ["CV26-0100", "cv260100", "SN:CV26-0100;TM-9", "TM-9", "4006381333931"]
)
def test_a_code_that_says_the_serial_or_something_else_contradicts_nothing(code):
    assert contradicting(coded(code)) == []


def test_one_code_that_agrees_is_enough():
    assert contradicting(coded("CV26-0101", "CV26-0100")) == []


def test_a_short_serial_is_contradicted_by_nothing():
    codes = (Barcode("Code 39", "CV11", PLATE),)
    assert contradicting(a_proposal(said("serial", "CV1"), barcodes=codes)) == []
