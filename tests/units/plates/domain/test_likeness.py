import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rapidfuzz.distance import Levenshtein

from units.plates.domain.likeness import Alike, Sign, certain_signs, likelihood, signs_of
from units.plates.domain.sight.engine import Glyph

ALIKE = Alike()
KEYS = st.text("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789", min_size=1, max_size=12)


@given(KEYS)
def test_nothing_fits_better_than_what_was_read_clearly(key):
    assert likelihood(certain_signs(key), key, ALIKE) == pytest.approx(0, abs=1e-9)


@given(KEYS, KEYS)
def test_each_edit_costs_at_least_what_the_readiest_look_alike_does(read, true):
    """The edit distance of an independent library bounds the fit from above."""
    fit = likelihood(certain_signs(read), true, ALIKE)
    edits = Levenshtein.distance(read, true)

    assert fit <= edits * math.log(0.02) + 1e-9


def test_look_alikes_fit_better_than_strangers():
    unsure = (Sign("O", {"O": 0.9, "0": 0.08}),)

    assert likelihood(unsure, "0", ALIKE) > likelihood(unsure, "8", ALIKE)


def test_corrections_made_in_the_shop_make_a_pair_likelier():
    worn = (Sign("H", {"H": 0.9}),)
    taught = Alike({("H", "4"): 40})

    assert likelihood(worn, "4", taught) > likelihood(worn, "4", ALIKE)


def test_signs_leave_out_marks_and_add_up_both_cases():
    glyphs = (
        Glyph("s", 0.5, (("S", 0.3), ("5", 0.1))),
        Glyph("-", 0.9, ()),
        Glyph("7", 0.98, ()),
    )

    signs = signs_of(glyphs)

    assert [sign.char for sign in signs] == ["S", "7"]
    assert signs[0].weights == pytest.approx({"S": 0.8, "5": 0.1})


def chance(read, true):
    return likelihood(certain_signs(read), true, ALIKE)


def test_a_letter_among_figures_is_readily_read_as_a_figure():
    """Measured on typefaces under the Open Font License; see alike.toml."""
    assert chance("18120214", "1812O214") > chance("KLM0PRT", "KLMOPRT") + 2


def test_a_figure_among_letters_is_sometimes_read_as_a_letter():
    assert chance("KLMOPRT", "KLM0PRT") > chance("KLMO7RT", "KLM07RT")


def test_what_a_measure_settled_does_not_slip():
    signs = certain_signs("18120214")
    settled = (*signs[:4], replace(signs[4], settled=True), *signs[5:])

    assert likelihood(settled, "1812O214", ALIKE) < chance("18120214", "1812O214") - 2
