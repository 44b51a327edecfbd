from decimal import Decimal

import pytest

from parts.fits.domain.reading import DesignationError
from parts.fits.domain.screws import HEADS, KEYS, Key, key_of, read_screw, wrong_keys


@pytest.mark.parametrize(
    ("text", "kept", "key"),
    [
        ("M8x20 cap", "M8x20 cap", "6"),
        ("m8 × 20 CAP", "M8x20 cap", "6"),
        ("M12 button", "M12 button", "8"),
        ("M6x16 ISO 10642", "M6x16 countersunk", "4"),
        ("M6 ISO4026", "M6 set", "3"),
        ("1/4-20x1 set", "1/4-20x1 set", "1/8"),
        ("3/8x1 1/2 cap", "3/8x1 1/2 cap", "5/16"),
    ],
)
def test_a_screw_is_kept_in_one_spelling_and_has_its_key(text, kept, key):
    screw = read_screw(text)
    assert (screw.designation, screw.key) == (kept, Key(key))
    assert screw.stand_ins == (read_screw(kept).designation,)


@pytest.mark.parametrize(
    ("text", "at"),
    [
        ("M7x20 cap", 2),
        ("M8x20", 6),
        ("M8x1.25 cap", 5),
        ("M8x20 dome", 7),
        ("M8x20 capped", 10),
        ("M8x20 cap!", 10),
        ("9/16 cap", 1),
        ("M8x0 cap", 4),
    ],
)
def test_a_wrong_screw_is_told_its_character_and_the_known_forms(text, at):
    with pytest.raises(DesignationError, match="Known forms: M8x20 cap") as refusal:
        read_screw(text)
    assert refusal.value.places["at"] == at


def test_every_thread_has_a_key_for_every_head():
    for thread in KEYS:
        for head in HEADS:
            assert Decimal(1) < key_of(thread, head).across_mm < Decimal(11)


@pytest.mark.parametrize(
    ("right", "wrong", "slack", "happens"),
    [
        ("4", "5/32", "0.03125", "near"),
        ("5/32", "4", "-0.03125", "tight"),
        ("5", "3/16", "0.2375", "loose"),
        ("3/16", "5", "-0.2375", "too-large"),
        ("6", "1/4", "-0.35", "too-large"),
        ("1/4", "6", "0.35", "loose"),
    ],
)
def test_the_wrong_key_is_judged_in_the_socket_of_the_right_one(right, wrong, slack, happens):
    (found,) = wrong_keys(Key(right))
    assert (found.key, found.slack_mm, found.happens) == (Key(wrong), Decimal(slack), happens)


def test_a_key_that_nothing_resembles_has_no_wrong_one():
    assert wrong_keys(Key("10")) == []
