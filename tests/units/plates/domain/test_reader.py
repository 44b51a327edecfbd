"""Real photos of drawn plates through the real reader: what CI reads of the study.

The study itself is ``manage.py platestudy``; its recorded table stands in DEVELOPERS.md.
"""

from dataclasses import replace
from functools import cache

import pytest

from tests.platemaker import make_photo, oddities, shop_knowledge
from units.catalogue.domain.keys import match_key
from units.plates.domain import reader
from units.plates.domain.judge import Judgement
from units.plates.domain.knowledge import Knowledge
from units.plates.domain.labels import find_labels
from units.plates.domain.proposal import FieldName, Outcome, Proposal, ReadField
from units.plates.domain.reader import PhotoUnreadableError, read_photo
from units.plates.domain.sight.look import overview

PHOTOS = 40
TIERS = ("easy", "normal", "hard")
FIRST_SEED = 77_000_000


@cache
def readings():
    """Forty photos of families and spoilings that nothing was tuned on."""
    knowledge = shop_knowledge("judge")
    made = [
        make_photo(seed=FIRST_SEED + at, tier=TIERS[at % 3], families="judge")
        for at in range(PHOTOS)
    ]
    return [(photo, read_photo(photo.jpeg, knowledge)[0]) for photo in made]


def right(photo, proposal: Proposal, name: FieldName) -> bool:
    return match_key(proposal.text_of(name)) == match_key(getattr(photo.truth, str(name)))


def test_what_the_reader_is_sure_of_is_right():
    sure = [one for one in readings() if one[1].outcome == Outcome.SURE]

    assert len(sure) >= PHOTOS // 2
    assert all(
        right(photo, proposal, name)
        for photo, proposal in sure
        for name in (FieldName.MODEL, FieldName.SERIAL)
    )


@pytest.mark.parametrize("name", [FieldName.MODEL, FieldName.SERIAL])
def test_most_easy_and_normal_photos_are_read_rightly(name):
    chosen = [one for one in readings() if one[0].tier != "hard"]

    assert sum(right(*one, name) for one in chosen) >= 0.9 * len(chosen)


def test_supply_and_date_are_read_with_them():
    chosen = [one for one in readings() if one[0].tier == "easy"]

    for name in (FieldName.VOLTS, FieldName.MADE):
        stated = [one for one in chosen if getattr(one[0].truth, str(name))]
        assert sum(one[1].text_of(name) == getattr(one[0].truth, str(name)) for one in stated) >= (
            0.8 * len(stated)
        )


def test_every_box_lies_in_the_photo():
    for _photo, proposal in readings():
        boxes = [one.box for one in proposal.fields.values() if one.box] + [proposal.plate]
        assert all(0 <= x <= 1 and 0 <= y <= 1 for box in boxes if box for x, y in box)


@pytest.mark.parametrize("draw", [oddities.no_plate, oddities.dog])
def test_a_photo_without_a_plate_proposes_nothing_for_sure(draw):
    proposal, _crop = read_photo(draw(), shop_knowledge("tune"))

    assert proposal.outcome == Outcome.TYPE
    assert proposal.plates == 0


def test_a_plate_on_its_head_is_read():
    photo = oddities.upside_down(3)

    proposal, crop = read_photo(photo.jpeg, shop_knowledge("tune"))

    assert right(photo, proposal, FieldName.SERIAL)
    assert crop is not None


def test_values_that_were_not_seen_from_afar_are_found_but_left_to_a_person():
    """Here from afar only labels were seen."""
    photos = (make_photo(seed=seed, tier="easy", families="tune") for seed in range(20))
    photo = next(photo for photo in photos if photo.family == "ruled_table")
    first, *_rest = overview(reader._decoded(photo.jpeg), reader._engine())
    labels = tuple(
        line
        for line in first.lines
        if find_labels(line.text) and not any(map(str.isdigit, line.text))
    )

    found = reader._look(replace(first, lines=labels), shop_knowledge("tune")).found.fields

    for name in (FieldName.MODEL, FieldName.SERIAL):
        assert match_key(found[name].text) == match_key(getattr(photo.truth, str(name)))
        assert found[name].outcome == Outcome.LOOK


def test_what_stands_further_off_replaces_nothing(monkeypatch):
    def seen(**texts):
        fields = {
            name: ReadField(name, texts.get(str(name), ""), 0.99, Outcome.SURE)
            for name in (FieldName.MAKER, FieldName.MODEL, FieldName.SERIAL)
        }
        return reader.Look((), (), Judgement(fields))

    looks = {
        "near": seen(serial="CV1"),
        "far": seen(maker="Holmgate", model="HG 7100", serial="HG2"),
    }
    monkeypatch.setattr(reader, "_closer", lambda view, _knowledge: looks[view])
    monkeypatch.setattr(reader, "_wider", lambda _look: "far")

    found = reader._look("near", Knowledge()).found.fields

    assert found[FieldName.SERIAL] == looks["near"].found.fields[FieldName.SERIAL]
    assert (found[FieldName.MODEL].text, found[FieldName.MODEL].outcome) == (
        "HG 7100",
        Outcome.LOOK,
    )


def test_two_plates_in_one_picture_are_never_sure():
    photo, _truths = oddities.two_plates(5)

    proposal, _crop = read_photo(photo, shop_knowledge("tune"))

    assert proposal.plates == 2
    assert proposal.outcome != Outcome.SURE


@pytest.mark.parametrize("content", [b"", b"no picture", b"\xff\xd8\xff\xe0 cut off"])
def test_bytes_that_are_no_picture_are_refused(content):
    with pytest.raises(PhotoUnreadableError):
        read_photo(content, Knowledge())


def test_a_shop_that_knows_nothing_yet_is_read_for_as_well():
    of_families = (make_photo(seed=seed, tier="easy", families="tune") for seed in range(20))
    photo = next(one for one in of_families if one.family == "one_column")

    proposal, _crop = read_photo(photo.jpeg, Knowledge())

    assert right(photo, proposal, FieldName.SERIAL)


def test_symbols_are_those_that_were_drawn():
    """Decoded by zxing-cpp from the photo; the truth is what the generator encoded."""
    seen = [
        (one, photo.truth.barcodes) for photo, proposal in readings() for one in proposal.barcodes
    ]

    assert seen
    assert all(one.text in {text for _format, text in drawn} for one, drawn in seen)
