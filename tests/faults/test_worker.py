"""The worker as the shop meets it: a process that is stopped, killed and started again.

Its reader is the real loop with a reader that does what a photo orders (``obedient_reader``).
"""

import signal
import sys
import time
from contextlib import suppress
from dataclasses import replace

import psutil
import pytest

from tests.ground import SET_UP, RealDatabase
from tests.units.plates import obedient_reader as orders

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such signals")

ASK = """
from django.contrib.auth.models import User
from django.utils import timezone
from tests.factories.pictures import picture, upload
from units.plates.services import ask_reading
by, _ = User.objects.get_or_create(username="reader")
for order in {orders!r}:
    photo = upload(picture("PNG", (160, order), colour=f"#{{order:06x}}"))
    ask_reading(upload=photo, by=by, at=timezone.now())
"""
STATES = """
from units.plates.models import PlateReading
print(*[f"{one.state}:{one.trouble or one.outcome}" for one in PlateReading.objects.all()])
"""
WATCH = (
    SET_UP
    + """
import sys, time
from units.plates.models import PlateReading
wanted = sys.argv[1:]
for _ in range(600):
    states = [f"{one.state}:{one.trouble or one.outcome}" for one in PlateReading.objects.all()]
    if states == wanted:
        break
    time.sleep(0.1)
print(*states)
"""
)


@pytest.fixture
def database(real_database):
    real_database.more = {"DJANGO_SETTINGS_MODULE": "tests.faults.obedient_settings"}
    return real_database


def patient(database: RealDatabase) -> RealDatabase:
    """Its photos may take longer than any test needs to find one being read."""
    return replace(database, more=database.more | {"OBEDIENT_SECONDS": "50"})


@pytest.fixture
def started():
    """``started(process)`` notes a process that must not outlive the test; a worker's too."""
    noted = []
    yield lambda process: noted.append(process) or process
    for process in noted:
        process.kill()
        process.wait()
        process.stdout.close()


def ask(database: RealDatabase, *photos: int) -> None:
    database.python(ASK.format(orders=photos))


def states(database: RealDatabase) -> list[str]:
    return database.python(STATES).split()


def states_once(database: RealDatabase, *wanted: str) -> list[str]:
    """The states as soon as they are what is wanted, or as they are after a minute."""
    watcher = database.start("-c", WATCH, *wanted)
    return watcher.communicate(timeout=120)[0].split()


def family(process) -> list[psutil.Process]:
    with suppress(psutil.NoSuchProcess):
        return psutil.Process(process.pid).children(recursive=True)
    return []


def all_gone(processes: list[psutil.Process], within=10.0) -> bool:
    _gone, alive = psutil.wait_procs(processes, timeout=within)
    return not alive


def named(processes: list[psutil.Process], word: str) -> list[psutil.Process]:
    return [one for one in processes if word in one.cmdline()]


def await_family(process, word: str) -> psutil.Process:
    """The process under this one that was started with a word, once it is there."""
    for _ in range(300):
        if found := named(family(process), word):
            return found[0]
        time.sleep(0.1)
    raise AssertionError(f"no process started with {word}")


def test_each_photo_that_troubles_the_reader_says_so_and_the_others_are_read(database, started):
    worker = started(database.start("manage.py", "worker"))
    ask(
        database,
        orders.READ,
        orders.EXIT,
        orders.HANG,
        orders.BLOAT,
        orders.REFUSE,
        orders.NOTHING,
        orders.CHATTER,
    )
    wanted = [
        "read:sure",
        "unread:died",
        "unread:too-long",
        "unread:too-large",
        "unread:unreadable",
        "read:type",
        "read:sure",
    ]
    assert states_once(database, *wanted) == wanted
    assert worker.poll() is None


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM], ids=["Ctrl-C", "SIGTERM"])
def test_worker_stops_at_once_amid_a_photo_which_the_next_one_reads(database, started, number):
    worker = started(patient(database).start("manage.py", "worker"))
    ask(database, orders.HANG)
    assert states_once(database, "reading:") == ["reading:"]
    children = family(worker)
    worker.send_signal(number)
    output, _ = worker.communicate(timeout=20)
    assert (worker.returncode, output) == (0, "")
    assert all_gone(children)
    assert states(database) == ["waiting:"]
    started(database.start("manage.py", "worker"))
    assert states_once(database, "unread:too-long") == ["unread:too-long"]


def test_photo_that_was_read_when_the_worker_was_killed_is_interrupted(database, started):
    worker = started(patient(database).start("manage.py", "worker"))
    ask(database, orders.HANG, orders.READ)
    wanted = ["reading:", "waiting:"]
    assert states_once(database, *wanted) == wanted
    children = family(worker)
    worker.kill()
    worker.communicate()
    assert all_gone(children)
    started(database.start("manage.py", "worker"))
    wanted = ["unread:interrupted", "read:sure"]
    assert states_once(database, *wanted) == wanted


def test_server_starts_a_worker_again_that_was_killed(database, started):
    server = started(database.start("manage.py", "serve", "--port", "0"))
    await_family(server, "worker").kill()
    ask(database, orders.READ)
    assert states_once(database, "read:sure") == ["read:sure"]


@pytest.mark.parametrize("end", ["terminate", "kill"])
def test_nothing_outlives_the_server_however_it_ends(database, started, end):
    server = started(database.start("manage.py", "serve", "--port", "0"))
    await_family(server, "units.plates.domain.reading_loop")
    below = family(server)
    assert len(below) == 2
    getattr(server, end)()
    assert all_gone(below)


def test_server_without_a_worker_starts_none(database, started):
    server = started(database.start("manage.py", "serve", "--port", "0", "--noworker"))
    assert any(line.startswith("Ctrl-C") for line in iter(server.stdout.readline, ""))
    assert family(server) == []
