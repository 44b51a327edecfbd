from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.units.recalls.ground import notice
from units.recalls.domain.matching import Comparison, How, Machine

TR90 = Machine(frozenset({"Corvane"}), frozenset({"TR-90"}), "treadmill", "CV125000")
MODELS = "This recall involves treadmills with model numbers TR-90 & TR-95."
SERIALS = "Serial numbers from CV120000 through CV129999 are included."


def how(machine=TR90, text=f"{MODELS} {SERIALS}", **changes):
    match = Comparison(notice(text=text, **changes)).match(machine)
    return match.how if match else None


@pytest.mark.parametrize(
    ("change", "expected"),
    [
        ({}, How.SERIAL),
        ({"serial": "cv-125 000"}, How.SERIAL),
        ({"serial": "CV130000"}, None),
        ({"serial": ""}, How.MODEL),
        ({"serial": "CV12500"}, How.MODEL),
        ({"serial": "130000"}, How.MODEL),
        ({"serial": "S/N CV130000"}, How.MODEL),
        ({"numbers": frozenset({"tr 90"})}, How.SERIAL),
        ({"numbers": frozenset({"TR-91"})}, None),
        ({"numbers": frozenset({"TR-91", "TR-95"})}, How.SERIAL),
        ({"makers": frozenset({"Corvane Fitness"})}, How.SERIAL),
        ({"makers": frozenset({"Holmgate"})}, None),
        ({"makers": frozenset({"Holmgate", "Corvane"})}, How.SERIAL),
        ({"kind": "rower"}, How.SERIAL),
    ],
)
def test_a_notice_of_models_and_serials_means_exactly_those(change, expected):
    assert how(replace(TR90, **change)) == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (MODELS, How.MODEL),
        ("This recall involves the TR-90 and TR-95 model treadmills.", How.MODEL),
        ("This recall involves the TR-80 and TR-85 model treadmills.", How.MAKER),
        ("This recall involves folding treadmills.", How.MAKER),
        ("This recall involves exercise bikes.", How.MAKER),
        (SERIALS, How.SERIAL),
        ("Serial numbers from CV130000 through CV139999.", None),
        (f"Model numbers TR-80 and TR-85. {SERIALS}", None),
        (f"Model numbers TR-80 and other models. {SERIALS}", How.SERIAL),
        ("Model TR-80 with serial numbers CV1 to CV2. Model TR-90.", How.MODEL),
        ("Model TR-90. Serial numbers CV1 to CV2 and a few others such as CV9.", How.MODEL),
        ("Model numbers beginning with TR9.", How.MODEL),
        ("Model numbers beginning with TR8.", None),
        ("Model TR-95 with serial numbers CV100 through CV199 and model TR-90.", How.MODEL),
        ("Models TR-90 and TR-95. The TR-95 with serial numbers CV100 to CV199.", How.MODEL),
    ],
)
def test_what_the_words_leave_open_is_left_to_a_person(text, expected):
    assert how(text=text) == expected


def test_a_notice_about_another_kind_of_machine_means_none_by_its_maker_alone():
    said = {"Title": "Corvane Recalls Bikes", "Products": [{"Name": "exercise bike"}]}
    assert how(text="Bikes of every colour.", **said) is None
    assert how(text="Bikes and treadmills.", **said) == How.MAKER


def test_a_model_in_its_own_field_counts_should_it_ever_be_filled():
    said = {"Products": [{"Name": "treadmill", "Model": "TR-90"}]}
    assert how(text="Nothing more.", **said) == How.MODEL


@pytest.mark.parametrize(
    ("printed", "ours"), [("CVTL5981.2", "CVTL5981"), ("CVTL5981", "CVTL5981.1")]
)
def test_a_revision_behind_the_number_makes_no_other_model(printed, ours):
    machine = replace(TR90, numbers=frozenset({ours}))
    assert how(machine, text=f"Model number {printed}.") == How.MODEL


def test_a_short_number_counts_only_where_it_is_called_a_model():
    machine = replace(TR90, numbers=frozenset({"90"}))
    assert how(machine, text="Model TR-80 weighs 90 pounds.") is None
    assert how(machine, text="Model 90 folds.") == How.MODEL


def test_a_match_shows_the_sentences_that_it_rests_on():
    match = Comparison(notice(text=f"{MODELS} It is grey. {SERIALS}")).match(TR90)
    assert match.sentences == (MODELS.rstrip("."), SERIALS)


def basis(text=f"{MODELS} {SERIALS}", **change) -> str:
    comparison = Comparison(notice(text=text))
    machine = replace(TR90, **change)
    return comparison.basis(comparison.match(machine), machine)


def test_another_wording_of_the_same_ranges_leaves_what_was_judged():
    other = f"It is grey and folds. {MODELS.replace('involves', 'is about')} {SERIALS}"
    assert basis() == basis(text=other)


@pytest.mark.parametrize(
    "change",
    [
        {"text": f"{MODELS} {SERIALS.replace('129999', '128888')}"},
        {"text": f"{MODELS.replace('TR-95', 'TR-96')} {SERIALS}"},
        {"serial": "CV125001"},
        {"numbers": frozenset({"TR-95"})},
    ],
)
def test_other_ranges_or_another_machine_are_something_else_to_judge(change):
    assert basis(**change) != basis()


@given(st.integers(0, 999_999))
def test_no_serial_inside_the_range_is_ever_left_out(number):
    expected = How.SERIAL if 120_000 <= number <= 129_999 else None
    assert how(replace(TR90, serial=f"CV{number:06}")) == expected


@given(st.lists(st.sampled_from(["TR-80", "TR-90", "TR-95", "1000"]), min_size=1, unique=True))
def test_every_model_of_a_list_is_named_and_no_other(numbers):
    text = f"Model numbers {', '.join(numbers)} are recalled."
    for number in ("TR-80", "TR-90", "TR-95", "1000", "TR-99"):
        machine = replace(TR90, numbers=frozenset({number}))
        assert how(machine, text=text) == (How.MODEL if number in numbers else None)


TEXTS = st.lists(
    st.sampled_from(
        [MODELS, SERIALS, "Model TR-80.", "All models.", "Serial numbers ending in 7.",
         "Model numbers beginning with TR9.", "Serial numbers CV1 to CV9, and CV77 made later."]
    ),
    max_size=4,
).map(" ".join)  # fmt: skip


@given(TEXTS, st.sampled_from(["TR-80", "TR-90", "1000"]), st.text("CV0123456789", max_size=8))
def test_what_is_meant_with_a_serial_is_meant_without_one(text, number, serial):
    machine = replace(TR90, numbers=frozenset({number}), serial=serial)
    if how(machine, text=text):
        assert how(replace(machine, serial=""), text=text)
