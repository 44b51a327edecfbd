"""A real browser before the real server.

``shop`` serves a fresh copy of a prepared database; ``page`` is a browser's page, once wide and
once as a phone. Whatever the page reports as an error (a script, the content security policy, a
missing file) fails the test at its end.
"""

import os
import re
import shutil
from collections import deque
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from threading import Thread

import axe_playwright_python
import pytest
from playwright.sync_api import expect, sync_playwright

from tests.ground import RealDatabase

HERE = Path(__file__).parent
PATIENCE = 30_000  # milliseconds: only what never comes is a failure, however slow the machine
expect.set_options(timeout=PATIENCE)
WIDTHS = {"wide": {"width": 1280, "height": 900}, "phone": {"width": 390, "height": 844}}
# Chromium reports these answers as console errors; they are pages with a sentence, asked for.
SENTENCES = re.compile(r"Failed to load resource: .* status of (403|422|429) ")
AXE = Path(axe_playwright_python.__file__).with_name("axe.min.js").read_text()
AXE_TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]

PASSWORDS = {
    "front desk": "warm-paper-41",
    "technician": "dark-petrol-52",
    "owner": "amber-spark-63",
    "accountant": "grey-rivet-74",
}
MAKE_PEOPLE = f"""
from django.contrib.auth.models import Group, User
for seat, password in {PASSWORDS!r}.items():
    user = User.objects.create_user(seat.replace(" ", "-"), password=password)
    user.groups.add(Group.objects.get(name=seat))
"""


def pytest_collection_modifyitems(items):
    for item in items:
        if item.path.is_relative_to(HERE):
            item.add_marker(pytest.mark.browser)


def chromium() -> str:
    """The browser's path, or the reason to skip."""
    named = os.environ.get("CHROMIUM", "")
    found = named or shutil.which("chromium") or shutil.which("google-chrome")
    if not found or not Path(found).exists():
        pytest.skip(f"needs Chromium: {named or 'chromium'} is not here (CHROMIUM names its path)")
    return found


@pytest.fixture(scope="module")
def browser():
    # Of a module, not of the session: while it runs, its event loop keeps Django's own
    # database access in this process shut.
    path = chromium()
    with sync_playwright() as playwright:
        opened = launched(playwright, path)
        yield opened
        opened.close()


def launched(playwright, path: str):
    root = hasattr(os, "geteuid") and os.geteuid() == 0
    return playwright.chromium.launch(executable_path=path, args=["--no-sandbox"] if root else [])


@dataclass
class Shop:
    """The served shop: where it is, its database, and who may sign in."""

    database: RealDatabase
    address: str
    said: deque = field(default_factory=lambda: deque(maxlen=200))

    def at(self, path: str) -> str:
        return self.address + path.lstrip("/")

    def sign_in(self, page, seat: str, password: str = "") -> None:
        """Sign in through the page, as the person of a seat; a wrong password may be given."""
        page.context.clear_cookies(name="sessionid")
        page.goto(self.at("sign-in/"))
        page.locator("[name=username]").fill(seat.replace(" ", "-"))
        page.locator("[name=password]").fill(password or PASSWORDS[seat])
        with page.expect_navigation():  # a click alone comes back before the next page is whole
            page.locator("main button.main").click()


@pytest.fixture(scope="session")
def peopled(template, tmp_path_factory):
    """Makes copies of the prepared database with one person a seat."""
    first = template.copy(tmp_path_factory.mktemp("peopled") / "home")
    first.python(MAKE_PEOPLE)
    return partial(template.copy, source=first)


@pytest.fixture
def shop(browser, peopled, tmp_path):
    database = peopled(tmp_path / "home")
    with database.start("manage.py", "serve", "--port", "0", "--noworker") as server:
        served = Shop(database, first_address(server))
        reader = Thread(target=served.said.extend, args=(server.stdout,))
        reader.start()
        yield served
        server.terminate()
        reader.join(timeout=20)
    said = "".join(served.said)
    assert "Traceback" not in said, said


def first_address(server) -> str:
    said = []
    for line in server.stdout:
        said.append(line)
        if "http://" in line:
            return line.strip()
    raise AssertionError("the server did not start:\n" + "".join(said))


def pytest_generate_tests(metafunc):
    """Both widths; a test marked ``one_width`` is about what happens, not about how it looks: then
    every other test of its file is walked wide, the rest on a phone."""
    if "page" not in metafunc.fixturenames:
        return
    widths = list(WIDTHS)
    if metafunc.definition.get_closest_marker("one_width"):
        tests = [name for name in vars(metafunc.module) if name.startswith("test_")]
        widths = [widths[tests.index(metafunc.definition.originalname) % 2]]
    metafunc.parametrize("page", widths, indirect=True)


@pytest.fixture
def page(request, browser):
    context = browser.new_context(
        viewport=WIDTHS[request.param], has_touch=request.param == "phone"
    )
    context.set_default_timeout(PATIENCE)
    opened, complaints = context.new_page(), []
    watch(opened, complaints)
    context.on("page", lambda other: watch(other, complaints))
    yield opened
    context.close()
    assert not complaints, "the page reports:\n" + "\n".join(complaints)


def watch(page, complaints: list[str]) -> None:
    if slowed := os.environ.get("SLOWED_TIMES"):
        session = page.context.new_cdp_session(page)
        session.send("Emulation.setCPUThrottlingRate", {"rate": float(slowed)})

    def console(message):
        said = message.text
        wrong = message.type == "error" or "Content Security Policy" in said
        if wrong and not SENTENCES.match(said):
            complaints.append(f"{page.url}: {said} {message.location.get('url', '')}")

    page.on("console", console)
    page.on("pageerror", lambda error: complaints.append(f"{page.url}: {error}"))


@pytest.fixture
def axe():
    """``axe(page)`` fails with a list of what WCAG 2.2 A and AA would have otherwise."""

    def check(page) -> None:
        page.evaluate(AXE)
        found = page.evaluate(
            "tags => axe.run(document, {runOnly: {type: 'tag', values: tags}})", AXE_TAGS
        )
        lines = [
            f"{rule['id']}: {rule['help']}\n    {node['html'][:160]}\n    {node['failureSummary']}"
            for rule in found["violations"]
            for node in rule["nodes"]
        ]
        assert not lines, f"{page.url} is not accessible:\n" + "\n".join(lines)

    return check
