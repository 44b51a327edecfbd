import pytest

from units.plates.domain.labels import find_labels, words

LABELLED = [
    ("MODEL NO: T-310L", [("model", "MODEL NO")]),
    ("MODEL / MODELO / MODÈLE: HG 7100", [("model", "MODEL / MODELO / MODÈLE")]),
    ("S/N:ML2019 P/N 1234", [("serial", "S/N"), ("other", "P/N")]),
    ("SER1AL N0. CV123", [("serial", "SER1AL N0")]),
    ("Date of Mfg 03/2019", [("made", "Date of Mfg")]),
    ("序列号:KT123", [("serial", "序列号")]),
    ("N° DE SÉRIE AB12", [("serial", "N° DE SÉRIE")]),
    ("Seriennummer 4711", [("serial", "Seriennummer")]),
    ("SERIALNO.ML201", [("serial", "SERIALNO")]),
    ("Serial No.HG1924-9193", [("serial", "Serial No")]),
    ("PART NO. 44-210", [("other", "PART NO")]),
    ("MODEL E-330", [("model", "MODEL")]),
    ("MODEL:E 330", [("model", "MODEL")]),
    ("MODEL C-945", [("model", "MODEL")]),
    ("Model KR 8", [("model", "Model")]),
    ("M O D E L E330", [("model", "M O D E L")]),
]


@pytest.mark.parametrize(("text", "expected"), LABELLED)
def test_labels_are_found_in_five_languages(text, expected):
    found = [(label.names, text[label.start : label.end]) for label in find_labels(text)]

    assert found == expected


@pytest.mark.parametrize("text", ["SNAP 12", "PARTY", "ML201900137", "", "   ", "T-310"])
def test_a_word_that_only_begins_like_a_label_is_none(text):
    assert find_labels(text) == []


def test_no_word_names_two_things():
    keys = [word for word, _names in words()]

    assert len(keys) == len(set(keys))


@pytest.mark.parametrize(
    ("text", "value"),
    [("S/NKT-201", "KT-201"), ("M/NKE 42B", "KE 42B"), ("S/N0412", "0412"), ("P/N7A", "7A")],
)
def test_a_space_after_a_slashed_label_may_not_be_read(text, value):
    (label,) = find_labels(text)

    assert text[label.end :] == value


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("S/NR 71189377", "71189377"),
        ("S/NUMBER: 71189377", "71189377"),
        ("M/NO. KT-201", "KT-201"),
        ("M/NR KT-201", "KT-201"),
        ("P/NO 123", "123"),
        ("SERIALN012345", "12345"),
    ],
)
def test_the_number_word_of_a_label_is_no_value(text, value):
    (label,) = find_labels(text)

    assert text[label.end :].strip(" .:") == value


@pytest.mark.parametrize("text", ["S/NOR7118937", "M/NAME KT201", "S/NEXT", "AC/DC 12"])
def test_a_slashed_label_that_may_go_on_is_none(text):
    """Its value would begin in doubt."""
    assert find_labels(text) == []
