"""What print and symbols come to, on views made by hand: no picture, no network."""

from dataclasses import replace

import numpy as np
import pytest

from units.plates.domain.judge import judge, never_sure
from units.plates.domain.knowledge import Knowledge
from units.plates.domain.proposal import IDENTITY, Barcode, FieldName, Outcome
from units.plates.domain.sight.engine import Glyph, Print
from units.plates.domain.sight.frames import Frame
from units.plates.domain.sight.look import Line, View

BOX = ((0, 0), (1, 0), (1, 1), (0, 1))
HEIGHT = 20
SERIALS = tuple(("Corvane", f"CV{2010 + at % 9}{at * 37:05}") for at in range(12))
SHOP = Knowledge(
    makers=("Corvane", "Holmgate"),
    models=(("Corvane", "T-310"), ("Corvane", "T-420"), ("Holmgate", "HG 7100")),
    serials=SERIALS,
)


def printed(text, doubt=None):
    """Clear print; ``doubt`` is (place, other character, its weight)."""
    glyphs = [Glyph(char, 1.0) for char in text]
    if doubt:
        place, other, weight = doubt
        glyphs[place] = Glyph(text[place], 1 - weight, ((other, weight),))
    places = tuple((at + 0.5) / len(text) for at in range(len(text)))
    return Print(tuple(glyphs), places)


def line(text, left=0, top=0, doubt=None):
    return Line(printed(text, doubt), left, top, left + 12 * len(text), top + HEIGHT, BOX)


def view(*lines):
    return View(tuple(lines), Frame.whole(np.zeros((8, 8, 3), np.uint8)))


def read(*lines, barcodes=(), knowledge=SHOP):
    """Both looks show the same."""
    return judge([view(*lines)] * 2, barcodes, knowledge)


def texts(found):
    return tuple(found.fields[name].text for name in IDENTITY)


def symbol(text):
    return Barcode("Code 128", text, BOX)


EXPECTED = ("Corvane", "T-310", "CV201412345")
LAYOUTS = {
    "beside their labels": [
        line("CORVANE", top=0),
        line("MODEL: T-310", top=40), line("SERIAL NO. CV201412345", top=80),
    ],
    "to the right": [
        line("CORVANE", top=0),
        line("MODEL", top=40), line("T-310", left=200, top=40),
        line("S/N", top=80), line("CV201412345", left=200, top=80),
    ],
    "below": [
        line("CORVANE", top=0),
        line("MODÈLE", top=40), line("T-310", top=64),
        line("N° DE SÉRIE", top=120), line("CV201412345", top=144),
    ],
    "below, in one row": [
        line("CORVANE", top=0),
        line("MODEL NO.", top=60), line("SERIAL NO.", left=300, top=60),
        line("T-310", top=90), line("CV201412345", left=300, top=90),
    ],
    "above": [
        line("CORVANE", top=0),
        line("T-310", top=120), line("MODEL", top=142),
        line("CV201412345", top=220), line("SERIAL", top=242),
    ],
}  # fmt: skip


@pytest.mark.parametrize("lines", LAYOUTS.values(), ids=LAYOUTS)
def test_values_are_found_where_plates_put_them(lines):
    found = read(*lines)

    assert texts(found) == EXPECTED
    assert found.fields[FieldName.SERIAL].outcome == Outcome.SURE


def serial(text, **more):
    lines = [line("CORVANE"), line("MODEL: T-310", top=40)]
    doubt = more.pop("doubt", None)
    shifted = doubt and (len("S/N ") + doubt[0], *doubt[1:])
    found = read(*lines, line(f"S/N {text}", top=80, doubt=shifted), **more)
    return found.fields[FieldName.SERIAL]


def test_a_symbol_that_agrees_makes_sure_of_a_shape_never_seen():
    strange, doubt = "XQ0ZK7741", (2, "O", 0.006)

    assert serial(strange, doubt=doubt).outcome != Outcome.SURE
    assert serial(strange, doubt=doubt, barcodes=[symbol(strange)]).outcome == Outcome.SURE


def test_a_symbol_that_contradicts_never_does():
    assert serial("CV201412345", barcodes=[symbol("CV201412346")]).outcome != Outcome.SURE


def test_a_symbol_that_means_something_else_is_no_contradiction():
    found = serial("CV201412345", barcodes=[symbol("6291041500213")])

    assert (found.text, found.outcome) == ("CV201412345", Outcome.SURE)


def test_the_makers_other_serials_settle_a_look_alike():
    found = serial("CVZ01412345", doubt=(2, "2", 0.3))

    assert found.text == "CV201412345"


@pytest.mark.parametrize(("settled", "sure"), [(False, False), (True, True)])
def test_a_zero_that_begins_a_group_may_be_a_letter(settled, sure):
    shown = line("S/N 75348-038")
    glyphs = [replace(one, settled=settled) for one in shown.print.glyphs]
    shown = replace(shown, print=replace(shown.print, glyphs=tuple(glyphs)))

    found = read(shown, knowledge=Knowledge(makers=("Corvane",))).fields[FieldName.SERIAL]

    assert (found.text, found.outcome == Outcome.SURE) == ("75348-038", sure)


@pytest.mark.parametrize("doubt", [0.006, 0.0])
def test_a_zero_between_letters_and_digits_is_left_to_a_person(doubt):
    """However clear: see the slips of alike.toml."""
    unmet = Knowledge(makers=("Corvane",))

    found = serial("HM01129287", doubt=(2, "O", doubt), knowledge=unmet)

    assert (found.text, found.outcome) == ("HM01129287", Outcome.LOOK)


@pytest.mark.parametrize(
    ("text", "doubt", "sure"),
    [("HMY1129287", (2, "V", 0.02), True), ("HMY1129287", (2, "V", 0.08), False),
     ("HMY1129287", (3, "I", 0.02), False), ("HMI9129287", (2, "1", 0.02), True)],
)  # fmt: skip
def test_a_figure_that_may_be_a_letter_is_doubted_sooner_than_other_signs(text, doubt, sure):
    found = serial(text, doubt=doubt, knowledge=Knowledge(makers=("Corvane",)))

    assert (found.outcome == Outcome.SURE) == sure


def test_a_serial_cut_short_is_left_to_a_person():
    assert serial("CV201412").outcome != Outcome.SURE


def test_a_shorter_serial_with_another_letter_than_all_have_there_is_no_part():
    known = Knowledge(
        makers=("Corvane",),
        serials=tuple(("Corvane", f"CV2014{number}") for number in range(10400, 10440)),
    )

    part, other = (
        read(line("CORVANE"), line(f"S/N {text}", top=80), knowledge=known)
        for text in ("CV20141", "CM20141")
    )

    assert (part.features["serial"]["short"], other.features["serial"]["short"]) == (1.0, 0.0)


@pytest.mark.parametrize(("numbers", "sure"), [(("OM2100", "OM7300"), True), (("M21X",), False)])
def test_a_doubtful_o_that_all_numbers_of_the_maker_have_there_is_no_doubt(numbers, sure):
    known = Knowledge(
        makers=("Ostramill",), models=tuple(("Ostramill", number) for number in numbers)
    )
    model = line("MODEL: OM4870", top=40, doubt=(len("MODEL: "), "0", 0.3))

    found = read(line("OSTRAMILL"), model, knowledge=known).fields[FieldName.MODEL]

    assert (found.text, found.outcome == Outcome.SURE) == ("OM4870", sure)


def test_a_whole_serial_of_another_shape_is_not_taken_for_a_part():
    """The marks of a part would stand where the whole has them."""
    known = Knowledge(
        makers=("Dunmarrow",),
        serials=tuple(("Dunmarrow", f"DM-19-{number}") for number in range(10400, 10440)),
    )

    cut, whole = (
        read(line("DUNMARROW"), line(f"S/N {text}", top=80), knowledge=known)
        for text in ("19-10421", "19818 23")
    )

    assert (cut.features["serial"]["short"], whole.features["serial"]["short"]) == (1.0, 0.0)


FIGURES = Knowledge(
    makers=("Corvane",), serials=tuple(("Corvane", str(71189000 + at)) for at in range(20))
)


@pytest.mark.parametrize("knowledge", [SHOP, FIGURES])
def test_a_long_number_beside_another_label_is_offered_but_never_sure(knowledge):
    shown = line("CORVANE"), line("MODEL: T-310", top=40), line("INPUT: 71189377", top=80)
    found = read(*shown, knowledge=knowledge).fields[FieldName.SERIAL]
    assert (found.text, found.outcome == Outcome.SURE) == ("71189377", False)


@pytest.mark.parametrize(
    "text",
    ["MFG DATE: 2019-04-12", "MFG DATE: 20190412", "DATE CODE: 71189377", "INPUT: 120VAC1800W"],
)
def test_dates_and_supplies_are_no_serials(text):
    found = read(line("CORVANE"), line(text, top=40), knowledge=FIGURES)
    assert found.fields[FieldName.SERIAL].text == ""


def test_a_part_number_is_no_serial():
    found = read(line("CORVANE"), line("MODEL: T-310", top=40), line("P/N 201412345", top=80))

    assert found.fields[FieldName.SERIAL].text == ""


def test_a_model_that_no_catalogue_holds_is_read_as_it_stands():
    found = read(line("CORVANE"), line("MODEL: T-319", top=40), line("S/N CV201412345", top=80))

    assert found.fields[FieldName.MODEL].text == "T-319"


def test_a_catalogued_model_of_another_maker_is_never_sure():
    found = read(line("CORVANE"), line("MODEL: HG 7100", top=40), line("S/N CV201412345", top=80))

    assert found.fields[FieldName.MODEL].outcome != Outcome.SURE


def test_a_maker_that_is_not_named_follows_from_the_model():
    found = read(line("MODEL: HG 7100"), line("S/N ML201412345", top=40))

    assert found.fields[FieldName.MAKER].text == "Holmgate"


def test_a_maker_nobody_has_met_is_proposed_from_the_tallest_words():
    name = replace(line("HOLLOWAY"), top=0, bottom=2 * HEIGHT)
    found = read(name, line("T 90", top=80), line("S/N QX4471", top=120), knowledge=Knowledge())
    maker = found.fields[FieldName.MAKER]
    assert (maker.text, maker.outcome) == ("HOLLOWAY", Outcome.LOOK)


def test_a_maker_nobody_has_met_is_proposed_from_beside_its_label():
    found = read(
        line("GYM FLOOR"), line("MFR: DUNMARROW", top=40), knowledge=Knowledge(makers=("Corvane",))
    )
    assert found.fields[FieldName.MAKER].text == "DUNMARROW"


def test_no_digits_make_the_name_of_a_maker():
    found = read(line("T 9000"), line("S/N QX4471", top=40), knowledge=Knowledge())
    assert found.fields[FieldName.MAKER].text == ""


def test_of_two_catalogued_numbers_that_look_alike_a_person_chooses_in_doubt():
    both = replace(SHOP, models=(("Corvane", "OM9500"), ("Corvane", "OM9S00")))
    name = line("CORVANE")
    clear = line("MODEL: OM9500", top=40)
    assert read(name, clear, knowledge=both).fields[FieldName.MODEL].outcome == Outcome.LOOK
    measured = [replace(glyph, settled=True) for glyph in clear.print.glyphs]
    told = replace(clear, print=replace(clear.print, glyphs=tuple(measured)))
    assert read(name, told, knowledge=both).fields[FieldName.MODEL].outcome == Outcome.SURE
    doubt = (len("MODEL: OM9"), "S", 0.2)
    faint = read(name, line("MODEL: OM9500", top=40, doubt=doubt), knowledge=both)
    assert faint.fields[FieldName.MODEL].outcome == Outcome.LOOK


def test_a_short_maker_s_name_inside_a_word_is_no_maker():
    shop = Knowledge(makers=("Kest", "Corvane"))
    found = read(line("UNKESTED FRAME"), line("S/N QX4471", top=40), knowledge=shop)
    assert found.fields[FieldName.MAKER].outcome != Outcome.SURE


def test_of_two_makers_on_one_plate_a_person_chooses():
    found = read(line("CORVANE"), line("HOLMGATE", top=40), line("S/N QX44718", top=80))
    assert found.fields[FieldName.MAKER].outcome == Outcome.LOOK


def test_a_code_that_names_another_model_never_makes_sure():
    lines = [line("CORVANE"), line("MODEL: T-310", top=40)]
    assert read(*lines).fields[FieldName.MODEL].outcome == Outcome.SURE
    found = read(*lines, barcodes=[symbol("T-420")])
    assert found.fields[FieldName.MODEL].outcome == Outcome.LOOK


def test_a_code_that_says_another_serial_by_its_name_contradicts():
    other = symbol("SN:CV201777777;MN=T-310")
    assert serial("CV201412345", barcodes=[other]).outcome != Outcome.SURE
    same = symbol("SN:CV201412345;MN=T-310")
    assert serial("CV201412345", barcodes=[same]).outcome == Outcome.SURE


def test_volts_and_hertz_are_no_model():
    found = read(line("CORVANE"), line("MODEL", top=40), line("100-240V, 50/60Hz, 2", top=64))
    assert found.fields[FieldName.MODEL].text == ""


def test_a_letter_that_no_serial_of_the_maker_has_there_is_left_to_a_person():
    serials = tuple(("Corvane", f"O{2010 + at % 9}F{1000 + at}") for at in range(12))
    found = serial("Q2014F4471", knowledge=replace(SHOP, serials=serials))
    assert found.outcome != Outcome.SURE


def test_a_serial_rarely_begins_with_a_zero_before_a_letter():
    assert serial("0B22S4812", doubt=(0, "O", 0.3)).text == "OB22S4812"


def test_what_is_left_of_a_label_before_a_colon_is_no_part_of_the_serial():
    assert serial("UMMER:CV201412345").text == "CV201412345"


def test_letters_in_words_are_no_serial():
    found = read(line("CORVANE"), line("SERIAL: SEE THE MANUAL", top=40))

    assert found.fields[FieldName.SERIAL].text == ""


def test_the_model_misread_by_a_look_alike_is_no_serial():
    shop = Knowledge(makers=("Ostramill",), models=(("Ostramill", "OM8400"),))

    found = read(line("OSTRAMILL"), line("MODEL", top=60), line("0M8400", top=84), knowledge=shop)

    assert found.fields[FieldName.MODEL].text == "OM8400"
    assert found.fields[FieldName.SERIAL].text == ""


def test_a_letter_where_all_serials_of_the_maker_have_one_is_no_figure():
    known = tuple(
        ("Corvane", f"{14 + at}{'ABCDEFGHJKLM'[at % 12]}{90210 + at}") for at in range(40)
    )

    found = serial("32041635", knowledge=replace(SHOP, serials=known))

    assert found.text == "32O41635"


@pytest.mark.parametrize(
    ("below", "taken"),
    [("HMJTRF6EK", True), ("FITNESS", False), ("F1TNESS", False), ("CHINA1", False)],
)
def test_a_serial_nearly_all_of_letters_is_taken_from_below_its_label(below, taken):
    """A word in which a letter was read as a figure is none; a person looks at any of them."""
    found = read(line("CORVANE"), line("SERIAL NO.", top=60), line(below, top=84))

    serial = found.fields[FieldName.SERIAL]
    assert (serial.text, serial.outcome == Outcome.SURE) == (below if taken else "", False)


def test_a_small_letter_among_capitals_is_left_to_a_person():
    unmet = Knowledge(makers=("Corvane",))

    assert serial("DM2248114", knowledge=unmet).outcome == Outcome.SURE
    assert serial("DiM2248114", knowledge=unmet).outcome == Outcome.LOOK


@pytest.mark.parametrize("apart", [0, 40])
def test_two_labels_of_one_row_each_have_their_own_value_below(apart):
    """The values are found as one line, or the serial begins a little to the left of its label."""
    labels = [line("MODEL NO.   SERIAL NO.", top=60)]
    values = [line("T-310       CV201412345", top=84)]
    if apart:
        labels = [line("MODEL", top=60), line("SERIAL", left=120, top=60)]
        values = [line("T-310", top=84), line("CV201412345", left=120 - apart, top=84)]

    assert texts(read(line("CORVANE"), *labels, *values)) == EXPECTED


def test_a_label_does_not_reach_past_another_one_to_its_value():
    """A value stands in the middle of a wide cell, a nearer label of another cell below it."""
    found = read(
        line("CORVANE"),
        line("S/N", top=60), line("XK3XW7M3", left=170, top=84),
        line("VOLTS", top=130), line("100-240", top=154),
    )  # fmt: skip

    assert found.fields[FieldName.SERIAL].text == "XK3XW7M3"


def test_nothing_is_sure_once_it_may_be_another_plates():
    found = never_sure(read(*LAYOUTS["below"]))

    assert all(one.outcome != Outcome.SURE for one in found.fields.values())
    assert texts(found) == EXPECTED


def test_a_new_model_begins_as_all_of_its_maker_do():
    numbers = tuple(("Ostramill", f"OM{at}100{end}") for at in range(1, 6) for end in ("", "S"))
    shop = Knowledge(makers=("Ostramill",), models=numbers)

    printed_ = line("MODEL 0M7200S", top=40, doubt=(6, "O", 0.1))

    found = read(line("OSTRAMILL"), printed_, knowledge=shop)

    assert found.fields[FieldName.MODEL].text == "OM7200S"


def unlabelled(number, *barcodes, knowledge=SHOP):
    found = read(line("CORVANE"), line("T-310", top=40), line(number, top=80), barcodes=barcodes,
                 knowledge=knowledge)  # fmt: skip
    return found.fields[FieldName.SERIAL]


@pytest.mark.parametrize("number", ["TB1A-7VNR", "QX2V-KLMN"])
def test_what_a_symbol_repeats_is_the_serial_of_a_plate_without_labels(number):
    """However few its figures, and though it holds what looks like amps."""
    assert unlabelled(number, symbol(number)).text == number
    assert unlabelled(number).text == ""


def test_a_symbol_alone_is_offered_but_never_sure():
    shown = read(line("CORVANE"), line("T-310", top=40), barcodes=[symbol("71189377")])
    found = shown.fields[FieldName.SERIAL]
    assert (found.text, found.outcome == Outcome.SURE) == ("71189377", False)


@pytest.mark.parametrize(
    "barcode", [Barcode("EAN-13", "2012345678903", BOX), Barcode("Code 128", "LOT44718", BOX)]
)
def test_a_trade_number_or_a_lot_in_a_symbol_is_no_serial(barcode):
    found = read(line("CORVANE"), line("T-310", top=40), barcodes=[barcode])
    assert found.fields[FieldName.SERIAL].text == ""


def test_a_new_model_without_a_label_is_found_by_its_makers_beginning():
    numbers = tuple(("Ostramill", f"OM{at}100") for at in range(1, 10))
    shop = Knowledge(makers=("Ostramill",), models=numbers)

    found = read(line("OSTRAMILL"), line("OM7200-XS", top=40), knowledge=shop)

    assert found.fields[FieldName.MODEL].text == "OM7200-XS"
    assert found.fields[FieldName.MODEL].outcome != Outcome.SURE


def test_a_symbol_of_something_else_does_not_outvote_the_label():
    shown = line("CORVANE"), line("S/N QX44718", top=40), line("A0034417", top=120)
    found = read(*shown, barcodes=[symbol("A0034417")]).fields[FieldName.SERIAL]
    assert found.text == "QX44718"


@pytest.mark.parametrize("text", ["SN8485-KZ13C", "SNIOM15082926"])
def test_sn_that_runs_into_a_number_may_be_its_label(text):
    found = unlabelled(text)
    assert (found.text, found.outcome == Outcome.SURE) == (text[2:], False)


def test_a_serial_of_a_known_shape_but_for_one_character_is_left_to_a_person():
    """Here the print lost one in its middle."""
    assert serial("CV20141234").outcome != Outcome.SURE
    assert serial("CV2014123456").outcome != Outcome.SURE
