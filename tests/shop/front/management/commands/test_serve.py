"""The server as whoever starts it meets it: a process of its own, ended by a signal."""

import os
import signal
import ssl
import sys
import urllib.request

import pytest

from tests.ground import RealDatabase


@pytest.fixture
def database(sqlite_template, tmp_path):
    return sqlite_template.copy(tmp_path / "home")


class Served:
    """A server process, read up to its last line before it waits for browsers."""

    def __init__(self, database: RealDatabase, *words: str, worker=False):
        more = () if worker else ("--noworker",)
        self.process = database.start("manage.py", "serve", "--port", "0", *more, *words)
        self.lines = []
        for line in self.process.stdout:
            self.lines.append(line.strip())
            if line.startswith("Ctrl-C"):
                break

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.process.kill()
        self.process.communicate()

    @property
    def address(self) -> str:
        return next(line for line in self.lines if line.startswith("http"))

    def end(self, number: int) -> tuple[int, str]:
        self.process.send_signal(number)
        output, _ = self.process.communicate(timeout=20)
        return self.process.returncode, output


def ask(address: str, context=None):
    with urllib.request.urlopen(address, timeout=10, context=context) as answer:
        return answer.headers, answer.read().decode()


def test_plain_http_serves_pages_and_static_files_and_says_what_phones_miss(database):
    with Served(database) as served:
        headers, page = ask(served.address)
        assert "csrftoken" in headers["Set-Cookie"]
        assert "Secure" not in headers["Set-Cookie"]
        assert "<title>Sign in" in page
        headers, style = ask(served.address + "static/front/underbelt.css")
        assert headers["Content-Type"].startswith("text/css")
        assert ".plate" in style
    assert any("no camera stream and no offline work" in line for line in served.lines)
    assert served.address.startswith("http://127.0.0.1:")


def test_https_uses_the_kept_certificate_and_lets_no_cookie_leave_in_the_clear(database):
    with Served(database, "--https", "--host", "127.0.0.1") as served:
        trusted = ssl.create_default_context(cafile=str(database.home / "https.pem"))
        headers, page = ask(served.address, trusted)
        assert "Secure" in headers["Set-Cookie"]
        assert "<title>Sign in" in page
        with pytest.raises(OSError):  # noqa: PT011 - a refusal, or the connection cut
            ask(served.address.replace("https:", "http:"))
    assert any("fingerprint" in line for line in served.lines)
    assert not any("no camera" in line for line in served.lines)


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such signals")
@pytest.mark.parametrize("worker", [True, False], ids=["with a worker", "alone"])
@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM], ids=["Ctrl-C", "SIGTERM"])
def test_it_stops_cleanly(database, number, worker):
    with Served(database, worker=worker) as served:
        assert served.end(number) == (0, "Stopped.\n")


def refusal(database: RealDatabase, *words: str) -> str:
    process = database.start("manage.py", "serve", *words)
    output, _ = process.communicate(timeout=60)
    assert process.returncode == 1, output
    assert "Traceback" not in output
    return output


def test_a_busy_port_gets_a_sentence(database):
    with Served(database) as served:
        port = served.address.rstrip("/").rpartition(":")[2]
        assert f"Port {port} is in use" in refusal(database, "--port", port)


def test_a_database_not_migrated_gets_a_sentence(tmp_path):
    assert "Run “python manage.py migrate”" in refusal(RealDatabase("sqlite", tmp_path))


def test_a_database_that_cannot_be_opened_gets_a_sentence(tmp_path):
    url = f"sqlite:///{tmp_path}/nowhere/underbelt.sqlite3"
    database = RealDatabase("sqlite", tmp_path, url)
    assert "The database cannot be opened" in refusal(database)


def test_a_production_set_up_on_plain_http_is_told_where_its_requests_go(database):
    database.more = {
        "UNDERBELT_MODE": "production",
        "SECRET_KEY": os.urandom(40).hex(),
        "ALLOWED_HOSTS": "shop.example",
    }
    with Served(database) as served:
        assert any("serve with --https, or behind a proxy" in line for line in served.lines)
