"""The generator of plates keeps its promises: what it says is true is what it drew."""

import json
import subprocess
import sys
import zipfile
from io import BytesIO
from random import Random

import cv2
import numpy as np
import pytest
import zxingcpp
from PIL import Image, ImageOps

from tests.platemaker import TIERS, family_names, make_photo, oddities, shop_knowledge
from tests.platemaker.codes import trade_number
from tests.platemaker.dots import GLYPHS
from tests.platemaker.facts import draw_facts
from tests.platemaker.fonts import MONO, SANS, SHOW
from tests.platemaker.makers import CATALOGUE, STYLES, confirmed_shapes, models_of
from tests.platemaker.photo import AGES, TAKES, UPRIGHT, developed, draw_sheet
from tests.platemaker.scene import CAPITALS, SHARES, Shot, find_pose
from tests.platemaker.surface import plate_of
from tests.platemaker.truth import SETS
from units.plates.domain.knowledge import shape_of

SEEDS = range(1, 27)


def sheets(families):
    for seed in SEEDS:
        yield draw_sheet(seed, Random(f"sheet/{seed}"), families)


def test_a_photo_depends_on_its_arguments_alone():
    once, again, other = (make_photo(seed=n, tier="normal", families="judge") for n in (4, 4, 14))

    assert once == again
    assert other.family == once.family
    assert other.truth != once.truth


@pytest.mark.parametrize(("tier", "families"), [("middling", "tune"), ("easy", "all")])
def test_an_unknown_tier_or_set_is_refused(tier, families):
    with pytest.raises(ValueError, match="one of"):
        make_photo(seed=1, tier=tier, families=families)


def test_judging_has_enough_families_and_shares_none_with_tuning():
    tune, judge = (set(family_names(families)) for families in SETS)

    assert len(tune) >= 10
    assert len(judge) >= 10
    assert not tune & judge


@pytest.mark.parametrize("faces", [SANS, MONO, SHOW])
def test_judging_shares_no_typeface_with_tuning(faces):
    assert not set(faces["tune"]) & set(faces["judge"])


def test_judging_has_spoilings_that_tuning_never_saw():
    held_back = {one.__name__ for table in (AGES, TAKES) for one in table["judge"]} - {
        one.__name__ for table in (AGES, TAKES) for one in table["tune"]
    }

    assert held_back == {"drops", "curved", "hand_shadow", "moire", "lens", "oversharp"}


def test_no_serial_style_is_in_both_sets():
    styles = [{style for pair in STYLES[one].values() for style in pair} for one in SETS]

    assert not styles[0] & styles[1]


@pytest.mark.parametrize("families", SETS)
def test_seeds_in_a_row_take_every_family_in_turn(families):
    names = family_names(families)

    assert {draw_sheet(n, Random(n), families)[3] for n in range(len(names))} == set(names)


@pytest.mark.parametrize("families", SETS)
def test_an_unspoiled_plate_shows_the_symbols_that_it_is_said_to_show(families):
    shown = 0
    for sheet, *_rest in sheets(families):
        read = zxingcpp.read_barcodes(np.asarray(sheet.image))
        for sort, text in sheet.codes:
            assert text in [one.text for one in read], (sort, text)
            shown += 1
    assert shown >= 5


@pytest.mark.parametrize("families", SETS)
def test_every_plate_shows_its_model_and_its_serial(families):
    for sheet, *_rest in sheets(families):
        assert {"model", "serial"} <= sheet.shown


def test_a_field_that_the_plate_leaves_out_is_empty_in_the_truth():
    photos = [make_photo(seed=n, tier="easy", families="tune") for n in range(10)]

    assert {bool(one.truth.made) for one in photos} == {True, False}
    assert all(one.truth.model and one.truth.serial for one in photos)


@pytest.mark.parametrize("families", SETS)
def test_the_truth_says_whether_the_shop_knows_the_model_and_the_shape(families):
    knowledge = shop_knowledge(families)
    shapes = {(maker, shape_of(serial)) for maker, serial in knowledge.serials}
    drawn = [draw_facts(Random(n), families) for n in range(600)]

    for one in drawn:
        assert one.known_model == ((one.maker, one.model) in knowledge.models)
        assert one.known_shape == ((one.maker, shape_of(one.serial)) in shapes)
    assert 0.08 < sum(not one.known_model for one in drawn) / len(drawn) < 0.16
    assert 0.1 < sum(not one.known_shape for one in drawn) / len(drawn) < 0.5


def test_the_catalogue_has_a_hundred_and_fifty_models_each_once():
    numbers = [(maker, number) for maker in CATALOGUE for number in models_of(maker)]

    assert len(numbers) == len(set(numbers)) == 150


def test_a_serial_of_a_confirmed_style_has_a_confirmed_shape():
    assert ("Corvane", "AA999999999") in confirmed_shapes("tune")
    assert not any(maker == "Kestrow" for maker, _shape in confirmed_shapes("tune"))


@pytest.mark.parametrize("tier", TIERS)
def test_the_print_is_never_smaller_in_the_photo_than_a_person_can_read(tier):
    for seed in SEEDS:
        rng = Random(f"pose/{seed}")
        plate = plate_of(draw_sheet(seed, rng, "judge")[0], rng)

        pose = find_pose(plate, rng, tier)

        assert pose.capital >= CAPITALS[tier]


@pytest.mark.parametrize("tier", TIERS)
def test_the_plate_lies_inside_the_frame_and_is_no_larger_than_the_tier_allows(tier):
    for seed in SEEDS:
        rng = Random(f"frame/{seed}")
        plate = plate_of(draw_sheet(seed, rng, "tune")[0], rng)
        height, width = plate.mask.shape

        pose = find_pose(plate, rng, tier)

        corners = np.float32([[(0, 0), (width, 0), (width, height), (0, height)]])
        outline = cv2.perspectiveTransform(corners, pose.matrix)[0]
        assert outline.min() >= 0
        assert (outline.max(0) <= pose.size).all()
        share = cv2.contourArea(outline) / (pose.size[0] * pose.size[1])
        assert share <= SHARES[tier][1] + 1e-6


def test_a_file_that_lies_on_its_side_says_so():
    picture = np.zeros((200, 300, 3), np.uint8)
    picture[:100, :150], picture[100:, 150:] = (250, 30, 30), (30, 30, 250)
    tags = set()
    for seed in range(24):
        shot = Shot(picture, np.zeros((1, 2)), 30, Random(seed), "easy", np.zeros((4, 2)))

        opened = Image.open(BytesIO(developed(shot, Random(seed))))

        tags.add(opened.getexif().get(0x0112, UPRIGHT))
        upright = np.asarray(ImageOps.exif_transpose(opened), int)
        assert upright.shape == picture.shape
        assert np.abs(upright - picture).mean() < 6
    assert tags == {1, 3, 6, 8}


def test_dots_tell_every_character_from_every_other():
    patterns = {glyph.tobytes() for glyph in GLYPHS.values()}

    assert len(patterns) == len(GLYPHS)
    assert set("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ-./") <= set(GLYPHS)


def test_trade_numbers_end_in_the_check_digit_of_the_standard():
    """GS1, "How to calculate a check digit manually": 629104150021 is completed by 3."""
    assert trade_number("629104150021") == "6291041500213"


def test_two_plates_are_of_two_machines():
    photo, truths = oddities.two_plates(1)

    assert truths[0].serial != truths[1].serial
    assert Image.open(BytesIO(photo)).size == (2400, 2800)


def test_an_upside_down_plate_carries_no_word_about_it():
    photo = oddities.upside_down(5)

    assert dict(Image.open(BytesIO(photo.jpeg)).getexif()) == {}
    read = zxingcpp.read_barcodes(Image.open(BytesIO(photo.jpeg)))
    assert [abs(one.orientation) for one in read] == [180]


def test_a_truncated_photo_begins_and_does_not_end():
    opened = Image.open(BytesIO(oddities.truncated()))

    with pytest.raises(OSError, match="truncated"):
        opened.load()


def test_forty_megapixels_are_forty():
    wide, tall = Image.open(BytesIO(oddities.forty_megapixels())).size

    assert 40e6 <= wide * tall < 41e6


@pytest.mark.parametrize("made", [oddities.bomb, oddities.hollow_bomb])
def test_a_bomb_is_small_and_claims_2500_megapixels(made):
    content = made()

    assert len(content) < 500_000
    assert content[16:24] == (50_000).to_bytes(4, "big") * 2


def test_a_polyglot_is_both_things():
    files = oddities.polyglots()

    both = files["a photo with an archive behind it"]
    assert Image.open(BytesIO(both)).format == "JPEG"
    assert zipfile.ZipFile(BytesIO(both)).namelist() == ["run.html"]
    assert files["a page that begins like a picture"].startswith(b"GIF89a")


@pytest.mark.parametrize("made", [oddities.dog, oddities.no_plate])
def test_a_picture_without_a_plate_holds_no_symbol(made):
    picture = Image.open(BytesIO(made()))

    assert zxingcpp.read_barcodes(picture) == []


def test_the_command_writes_photos_and_their_truths(tmp_path):
    asked = ["--families", "judge", "--tier", "easy", "--count", "2", "--seed", "5"]
    subprocess.run([sys.executable, "-m", "tests.platemaker", tmp_path, *asked], check=True)

    rows = [json.loads(line) for line in (tmp_path / "truth.jsonl").read_text().splitlines()]
    made = make_photo(seed=5, tier="easy", families="judge")
    assert [row["file"] for row in rows] == ["judge-easy-00005.jpg", "judge-easy-00006.jpg"]
    assert (tmp_path / rows[0]["file"]).read_bytes() == made.jpeg
    assert rows[0]["truth"]["serial"] == made.truth.serial
