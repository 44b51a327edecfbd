"""The loop as its starter meets it: a process of its own."""

import subprocess
import sys

import pytest

from tests.factories.pictures import picture
from tests.ground import ROOT
from tests.units.plates import obedient_reader
from units.plates.domain.knowledge import Knowledge
from units.plates.domain.proposal import Proposal
from units.plates.domain.reading_loop import as_head, from_head
from units.plates.domain.wire import read_frame, write_frame

KNOWN = Knowledge(
    makers=("Corvane", "Holmgate"),
    models=(("Corvane", "TM-9"),),
    serials=(("Corvane", "CV1"),),
    misread={("O", "0"): 3},
)


@pytest.fixture
def loop():
    process = subprocess.Popen(
        [sys.executable, "-m", "units.plates.domain.reading_loop", obedient_reader.__name__],
        cwd=ROOT,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    with process:
        yield process
        process.kill()


def ask(loop, order: int) -> None:
    write_frame(loop.stdin, as_head(KNOWN), picture("PNG", (160, order)))


def test_knowledge_arrives_as_it_was_sent():
    assert from_head(as_head(KNOWN)) == KNOWN


def test_it_says_that_it_is_ready_and_answers_each_photo(loop):
    assert read_frame(loop.stdout) == ({"ready": True}, b"")
    for _ in range(2):
        ask(loop, obedient_reader.READ)
        head, plate = read_frame(loop.stdout)
        assert Proposal.from_json(head["proposal"]) == obedient_reader.proposal(makers=KNOWN.makers)
        assert plate == picture("PNG", (160, obedient_reader.READ))


def test_what_libraries_print_does_not_come_between(loop):
    read_frame(loop.stdout)
    ask(loop, obedient_reader.CHATTER)
    assert "proposal" in read_frame(loop.stdout)[0]


def test_photo_that_is_no_picture_is_answered_with_a_refusal(loop):
    read_frame(loop.stdout)
    ask(loop, obedient_reader.REFUSE)
    assert read_frame(loop.stdout) == ({"unreadable": "as the photo ordered"}, b"")


def test_error_of_the_reader_ends_it_with_a_trace(loop):
    read_frame(loop.stdout)
    ask(loop, obedient_reader.RAISE)
    assert read_frame(loop.stdout) is None
    assert b"RuntimeError: as the photo ordered" in loop.stderr.read()
    assert loop.wait(10) == 1


def test_it_ends_amid_a_photo_when_nobody_listens_any_more(loop):
    read_frame(loop.stdout)
    ask(loop, obedient_reader.HANG)
    loop.stdin.close()
    assert loop.wait(10) == 0
