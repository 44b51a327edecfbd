import pytest

from units.recalls.domain.prose import clauses_in, sentences
from units.recalls.domain.serials import Begins, Between, Coded, Ends, Exactly


def only(text: str):
    (clause,) = clauses_in([text])
    return clause


@pytest.mark.parametrize(
    ("text", "models"),
    [
        ("Corvane treadmills with model numbers TR-90 & TR-95 are recalled.", ("TR90", "TR95")),
        ("The recall includes models 1000, 1200 and 1500 sold in 2013.", ("1000", "1200", "1500")),
        ("Model nos. TR-90, TR-95.", ("TR90", "TR95")),
        ("Models include: TR-90; TR-95; and TR-100.", ("TR90", "TR95", "TR100")),
        ("Corvane model TR 90 treadmills", ("TR90",)),
        ("Models:\nTR-90\nTR-95", ("TR90", "TR95")),
        ("MODEL NUMBER TR-90", ("TR90",)),
    ],
)
def test_models_are_read_out_of_a_sentence(text, models):
    clause = only(text)
    assert (clause.models, clause.unclear_models) == (models, False)


def test_beginnings_of_model_numbers_are_read():
    clause = only("Model numbers beginning with TR9 are recalled.")
    assert clause.names({"TR95"})
    assert not clause.names({"TR85"})


@pytest.mark.parametrize(
    ("text", "serials"),
    [
        ("Serial numbers beginning with CV12 or CV13.", (Begins("CV12"), Begins("CV13"))),
        ("Serial numbers from CV120 through CV129.", (Between("CV120", "CV129"),)),
        ("Serial numbers between CV1000 and CV2000.", (Between("CV1000", "CV2000"),)),
        ("with serial numbers CV120000 – CV129999", (Between("CV120000", "CV129999"),)),
        ("Serial numbers CV1, CV2.", (Exactly("CV1"), Exactly("CV2"))),
        ("Serial numbers ending with 89.", (Ends("89"),)),
        (
            "Serial numbers beginning with CV1201 through CV1212.",
            (Between("CV1201", "CV1212", leading=True),),
        ),
        (
            "The serial number is PPP + YYMM + 5 digits, from TRC130100001 through TRC140699999.",
            (Between("TRC130100001", "TRC140699999"),),
        ),
        (
            "Serial numbers: CV100 to CV200\nCV300 to CV400",
            (Between("CV100", "CV200"), Between("CV300", "CV400")),
        ),
    ],
)
def test_serials_are_read_out_of_a_sentence(text, serials):
    clause = only(text)
    assert (clause.serials, clause.unclear_serials) == (serials, False)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        (
            "The date code is the first four digits of the serial number. Date codes 1305 "
            "through 1420 are recalled.",
            Coded("1305", "1420", start=0),
        ),
        (
            "Serial numbers in which the third through sixth digits are between 1305 and 1420.",
            Coded("1305", "1420", start=2),
        ),
        (
            "The last four digits of the serial number are a date code from 1305 to 1420.",
            Coded("1305", "1420", start=-4),
        ),
        ("Date codes (YYWW) 1305 to 1420 in the serial number.", Coded("1305", "1420")),
        (
            "The date code WWYY in the serial number. Date codes 5213 to 0414.",
            Coded("5213", "0414", swapped=True),
        ),
        ("Date codes 1305 to 1420 on a label.", Coded("1305", "1420", inside=False)),
    ],
)
def test_codes_inside_a_serial_are_read_with_their_place(text, code):
    patterns = [pattern for clause in clauses_in([text]) for pattern in clause.serials]
    assert patterns == [code]


def test_each_model_has_the_serials_that_follow_it():
    first, second = clauses_in(
        ["Models TR-90 (serial numbers CV100-CV200) and TR-95 (serial numbers CV300-CV400)."]
    )
    assert (first.models, first.serials) == (("TR90",), (Between("CV100", "CV200"),))
    assert (second.models, second.serials) == (("TR95",), (Between("CV300", "CV400"),))


def test_each_pair_may_have_its_own_sentence():
    text = "Model TR-90 with serial numbers CV1 to CV2. Model TR-95 with serial numbers CV3 to CV4."
    assert [one.models for one in clauses_in([text])] == [("TR90",), ("TR95",)]


@pytest.mark.parametrize(
    "text",
    [
        "The model and serial numbers are printed on a label on the frame.",
        "This recall involves treadmills sold in 2013.",
        "Stop using it.",
    ],
)
def test_a_sentence_that_names_nothing_gives_no_clause(text):
    assert clauses_in([text]) == ()


@pytest.mark.parametrize(
    "text",
    [
        "All models are recalled.",
        "Model TR-90 and all other models.",
        "The Stride series, model TR-90.",
        "Model TR-90 sold with the older TR-91.",
        "Model Number Serial Number Range TR-90 CV12000-CV12999",
        "Model TR-90 is recalled. So is the TR-91.",
        "The TR-91 folds and so does model TR-90.",
    ],
)
def test_more_than_what_was_read_is_said_to_be_unclear(text):
    assert any(clause.unclear_models for clause in clauses_in([text]))


@pytest.mark.parametrize(
    "text",
    [
        "Serial numbers 1000 to 2000 made here and 3000 to 4000 made there.",
        "Serial numbers CV100 to CV200. Units made in March are included: CV300 to CV400.",
        "Model TR-90 with serial numbers CV100 through CV199 and model TR-95.",
        "Model TR-90 and model TR-95 (serial numbers CV1 to CV9), and model TR-80.",
        "Serial numbers CV100 through CV199 and model TR-95.",
        "Models TR-90 and TR-95. The TR-90 with serial numbers CV100 through CV199 is recalled.",
        "Models 1000 and 1200. The 1000 with serial numbers CV100 through CV199 is recalled.",
        "Models TR 90 and TR 95. The TR 90 with serial numbers CV100 to CV199 is recalled.",
    ],
)
def test_serials_that_were_not_understood_are_said_to_be_unclear(text):
    assert any(clause.unclear_serials for clause in clauses_in([text]))


@pytest.mark.parametrize(
    "text",
    [
        "Model TR-90, serial numbers CV1 to CV9; the model number is on the label.",
        "Model TR-90. About 19,900 treadmills with serial numbers CV1 to CV9 are recalled.",
    ],
)
def test_a_range_that_is_said_of_every_model_named_is_clear(text):
    assert not any(clause.unclear_serials for clause in clauses_in([text]))


def test_a_short_word_with_a_point_ends_no_sentence():
    said = list(sentences("Model No. TR-90 by Corvane Inc. Treadmills fold. They are grey."))
    assert said == ["Model No. TR-90 by Corvane Inc. Treadmills fold", "They are grey."]
