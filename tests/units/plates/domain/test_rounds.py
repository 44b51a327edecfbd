"""What tells an O from a 0: its breadth where the pitch is not even, a mark in the 0 where it is.

Source: common practice of type design; the typefaces under the Open Font License are the check.
"""

import math
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image, ImageDraw

from tests.units.plates.domain.drawn_lines import drawn
from units.plates.domain.sight.breadth import speaks_for_o
from units.plates.domain.sight.look_alikes import tell_look_alikes
from units.plates.domain.sight.marks import HOLLOW, MARKED, mark_inside
from units.plates.domain.sight.standing import TALL, standing

UNEVEN = ("arimo", "noto-sans", "roboto-condensed")
EVEN = ("roboto-mono", "space-mono")


@pytest.mark.parametrize("typeface", UNEVEN)
def test_a_broad_o_that_was_read_as_a_zero_is_told(typeface):
    told = tell_look_alikes(*drawn("KHO24583", typeface, read_as="KH024583"))

    assert told.text == "KHO24583"
    assert told.glyphs[2].settled


def doubted(cut, print_, at=2):
    """The same line with an O that may be a 0."""
    doubtful = replace(print_.glyphs[at], weight=0.6, others=(("0", 0.3),))
    return cut, replace(print_, glyphs=(*print_.glyphs[:at], doubtful, *print_.glyphs[at + 1 :]))


@pytest.mark.parametrize("typeface", UNEVEN)
def test_a_zero_read_as_an_o_beside_broad_letters_is_told(typeface):
    told = tell_look_alikes(*doubted(*drawn("KH024583", typeface, read_as="KHO24583")))

    assert told.text == "KH024583"
    assert told.glyphs[2].settled


@pytest.mark.parametrize("typeface", EVEN)
def test_a_marked_zero_is_told_by_itself(typeface):
    told = tell_look_alikes(*doubted(*drawn("KH024583", typeface, read_as="KHO24583")))

    assert told.text == "KH024583"
    assert told.glyphs[2].settled


@pytest.mark.parametrize("typeface", EVEN)
def test_beside_marked_zeros_the_hollow_one_is_an_o(typeface):
    told = tell_look_alikes(*drawn("KHO20083", typeface, read_as="KH020083"))

    assert told.text == "KHO20083"
    assert told.glyphs[2].settled


@pytest.mark.parametrize("typeface", EVEN)
def test_beside_a_single_marked_zero_the_hollow_one_is_doubted(typeface):
    """The mark may be dirt."""
    told = tell_look_alikes(*drawn("KHO24083", typeface, read_as="KH024083"))

    assert not told.glyphs[2].settled
    assert dict(told.glyphs[2].others)["O"] > 0.05


def speckled(cut, print_, at):
    """The same line with dirt inside one character."""
    ink = standing(cut, print_).inks[at]
    scale = cut.shape[0] / TALL
    x, y = ((ink.left + ink.wide / 2) * scale, (ink.top + ink.tall / 2) * scale)
    dirty = Image.fromarray(cut)
    size = 0.16 * ink.wide * scale
    ImageDraw.Draw(dirty).ellipse((x - size, y - size, x + size, y + size), fill=(20, 20, 22))
    return np.asarray(dirty).copy()


@pytest.mark.parametrize("typeface", UNEVEN)
@pytest.mark.parametrize(("text", "at"), [("KHO24083", 2), ("KH024083", 2), ("KHO24083", 5)])
def test_dirt_in_one_round_of_uneven_pitch_settles_nothing_wrongly(typeface, text, at):
    cut, print_ = drawn(text, typeface, read_as=text.replace("O", "0"))
    dirty = speckled(cut, print_, at)
    seen = standing(dirty, print_)
    assert mark_inside(seen, seen.inks[at]) >= MARKED

    told = tell_look_alikes(dirty, print_)

    assert all(
        not glyph.settled or glyph.char == char
        for glyph, char in zip(told.glyphs, text, strict=True)
    )
    assert told.glyphs[5].char == "0"


@pytest.mark.parametrize("typeface", UNEVEN)
def test_an_eight_read_as_a_zero_makes_no_o_of_a_zero(typeface):
    told = tell_look_alikes(*drawn("KH820583", typeface, read_as="KH020583"))

    assert told.glyphs[4].char == "0"


@pytest.mark.parametrize("typeface", EVEN)
def test_a_hollow_one_alone_in_print_of_even_pitch_stays_as_it_was_read(typeface):
    told = tell_look_alikes(*drawn("KHO24583", typeface, read_as="KH024583"))

    assert told.text == "KH024583"
    assert not told.glyphs[2].settled


@pytest.mark.parametrize("typeface", UNEVEN)
def test_no_mark_is_seen_in_typefaces_that_have_none(typeface):
    cut, print_ = drawn("KHO24083", typeface)
    seen = standing(cut, print_)

    assert all(mark_inside(seen, seen.inks[at]) <= HOLLOW for at in (2, 5))


@pytest.mark.parametrize("typeface", EVEN)
@pytest.mark.parametrize("light_on_dark", [False, True])
def test_marks_are_seen_in_dark_and_in_light_print(typeface, light_on_dark):
    cut, print_ = drawn("KHO24083", typeface)
    seen = standing(255 - cut if light_on_dark else cut, print_)

    assert mark_inside(seen, seen.inks[5]) >= MARKED
    assert mark_inside(seen, seen.inks[2]) <= HOLLOW


def test_with_too_few_figures_beside_it_nothing_is_measured():
    cut, print_ = drawn("KHO46", "arimo", read_as="KH046")

    assert tell_look_alikes(cut, print_) is print_


def test_a_line_without_look_alikes_is_left_alone():
    cut, print_ = drawn("KH4639", "arimo")

    assert tell_look_alikes(cut, print_) is print_


def test_a_picture_without_ink_tells_nothing():
    _cut, print_ = drawn("KHO24583", "arimo")

    assert tell_look_alikes(np.full((40, 300, 3), 200, np.uint8), print_) is print_


def test_weights_of_the_pair_are_kept_and_only_shared_anew():
    cut, print_ = drawn("KHO24583", "arimo", read_as="KH024583", weight=0.8)

    glyph = tell_look_alikes(cut, print_).glyphs[2]

    assert math.isclose(glyph.weight + dict(glyph.others)["0"], 0.8)


@pytest.mark.parametrize("letter", [0, 1.2])
def test_the_broader_the_more_it_speaks_for_an_o_up_to_its_usual_breadth(letter):
    told = [speaks_for_o(breadth, 0.05, letter) for breadth in (1.0, 1.05, 1.1, 1.15, 1.2, 1.25)]

    assert told == sorted(told)
    assert told[0] < 0 < told[-1]


def test_a_measure_far_from_either_says_nothing():
    assert speaks_for_o(3.0, 0.05) == pytest.approx(0, abs=1e-6)
