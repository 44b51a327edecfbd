"""The reader's process, driven to each of its ends by a photo that orders it."""

import json
import time

import psutil
import pytest

from tests.factories.pictures import picture
from tests.ground import SET_UP, RealDatabase
from tests.platemaker import make_photo, shop_knowledge
from tests.units.plates import obedient_reader
from units.catalogue.domain.keys import match_key
from units.plates.domain.knowledge import Knowledge
from units.plates.domain.proposal import Proposal
from units.plates.services.reading_child import NotReadError, PutOffError, ReaderChild

KNOWN = Knowledge(makers=("Corvane",))


def child_of(seconds=20.0, memory=2_000_000_000, reader=obedient_reader.__name__) -> ReaderChild:
    return ReaderChild(reader=reader, seconds=seconds, memory=memory)


@pytest.fixture
def child():
    made = child_of()
    yield made
    made.close()


def read(child, order=obedient_reader.READ):
    return child.read(picture("PNG", (160, order)), KNOWN)


def gone(pid: int, within=10.0) -> bool:
    until = time.monotonic() + within
    while psutil.pid_exists(pid) and time.monotonic() < until:
        time.sleep(0.05)
    return not psutil.pid_exists(pid)


def test_photo_is_read_with_what_the_shop_knows(child):
    proposal, plate = read(child)
    assert proposal == obedient_reader.proposal(makers=["Corvane"])
    assert plate == picture("PNG", (160, obedient_reader.READ))


def test_photo_without_a_plate_has_no_crop(child):
    proposal, plate = read(child, obedient_reader.NOTHING)
    assert (proposal.fields, plate) == ({}, None)


def test_one_warm_process_reads_photo_after_photo(child):
    read(child)
    first = child.pid
    read(child)
    assert child.pid == first


def test_reader_gives_way_to_the_web_process(child):
    child.start()
    assert psutil.Process(child.pid).nice() > psutil.Process().nice()


@pytest.mark.skipif(psutil.WINDOWS, reason="niceness is counted in steps on POSIX only")
@pytest.mark.parametrize(("ours", "reader"), [(0, 5), (10, 15), (15, 19)])
def test_reader_stays_behind_a_shop_that_gives_way_itself(child, monkeypatch, ours, reader):
    asked = []
    monkeypatch.setattr(
        psutil.Process, "nice", lambda _self, value=None: asked.append(value) if value else ours
    )
    child.start()
    assert asked == [reader]


@pytest.mark.parametrize(
    ("order", "trouble"),
    [(obedient_reader.EXIT, "died"), (obedient_reader.RAISE, "died")],
    ids=["exits", "raises"],
)
def test_reader_that_dies_over_a_photo_is_said_and_replaced(child, order, trouble):
    read(child)
    first = child.pid
    with pytest.raises(NotReadError) as caught:
        read(child, order)
    assert caught.value.trouble == trouble
    assert read(child)[0].outcome == "sure"
    assert child.pid != first


def test_photo_that_takes_too_long_is_given_up_and_its_reader_ended():
    child = child_of(seconds=0.5)
    child.start()
    hanging = child.pid
    with pytest.raises(NotReadError) as caught:
        read(child, obedient_reader.HANG)
    assert caught.value.trouble == "too-long"
    assert gone(hanging)
    child.close()


def test_photo_that_takes_too_much_memory_is_given_up_and_its_reader_ended():
    child = child_of(memory=200_000_000)
    child.start()
    bloated = child.pid
    with pytest.raises(NotReadError) as caught:
        read(child, obedient_reader.BLOAT)
    assert caught.value.trouble == "too-large"
    assert gone(bloated)
    assert read(child)[0].outcome == "sure"
    child.close()


def test_picture_that_cannot_be_decoded_is_said_and_costs_no_reader(child):
    read(child)
    first = child.pid
    with pytest.raises(NotReadError) as caught:
        read(child, obedient_reader.REFUSE)
    assert (caught.value.trouble, child.pid) == ("unreadable", first)
    assert str(caught.value) == "The picture could not be decoded."


def test_reader_that_cannot_even_start_is_said():
    child = child_of(reader="tests.units.plates.no_such_reader")
    with pytest.raises(NotReadError) as caught:
        read(child)
    assert caught.value.trouble == "died"
    child.close()


def test_stopping_puts_the_photo_off_and_leaves_no_process(child):
    read(child)
    pid = child.pid
    child.stop()
    with pytest.raises(PutOffError):
        read(child, obedient_reader.HANG)
    assert gone(pid)


def test_closing_ends_the_process_and_may_be_done_twice(child):
    read(child)
    pid = child.pid
    child.close()
    child.close()
    assert gone(pid)


HOLD = (
    SET_UP
    + """
import time
from units.plates.services.reading_child import ReaderChild
child = ReaderChild(reader="tests.units.plates.obedient_reader", seconds=60, memory=10**10)
child.start()
print(child.pid, flush=True)
time.sleep(60)
"""
)


def test_no_reader_outlives_whoever_started_it(tmp_path):
    starter = RealDatabase("sqlite", tmp_path).start("-c", HOLD)
    pid = int(starter.stdout.readline())
    assert psutil.pid_exists(pid)
    starter.kill()
    starter.communicate()
    assert gone(pid)


def test_true_reader_reads_a_clean_plate_within_the_bounds_of_the_shop(settings, monkeypatch):
    monkeypatch.setenv("PYTHONWARNINGS", "error")
    made = make_photo(seed=5, tier="easy", families="tune")
    child = child_of(settings.PLATE_SECONDS, settings.PLATE_MEMORY, settings.PLATE_READER)
    proposal, plate = child.read(made.jpeg, shop_knowledge("tune"))
    child.close()
    read = match_key(proposal.text_of("serial")), match_key(proposal.text_of("model"))
    assert read == (match_key(made.truth.serial), match_key(made.truth.model))
    assert plate.startswith(b"\xff\xd8\xff")
    assert Proposal.from_json(json.loads(json.dumps(proposal.as_json()))) == proposal
