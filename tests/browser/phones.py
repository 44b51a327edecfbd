"""A technician's phone and the shop it may lose: a browser with a profile on disk, that can be
killed and opened again, and a server that can be stopped and started at its address."""

import os
import socket
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from threading import Thread

import psutil
from playwright.sync_api import BrowserContext, BrowserType, Page
from playwright.sync_api import Error as PlaywrightError

from tests.browser.conftest import PASSWORDS, chromium, first_address
from tests.ground import RealDatabase

SCREEN = {"width": 390, "height": 844}


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


@dataclass
class Server:
    """The shop's server on a port of its own."""

    database: RealDatabase
    host: str = "127.0.0.1"
    port: int = field(default_factory=free_port)
    said: list[str] = field(default_factory=list)

    def __post_init__(self):
        self.process = None

    @property
    def address(self) -> str:
        return f"http://{self.host}:{self.port}/"

    def start(self) -> None:
        words = ("manage.py", "serve", "--port", str(self.port), "--noworker")
        self.process = self.database.start(*words)
        first_address(self.process)
        self.reader = Thread(target=self.said.extend, args=(self.process.stdout,))
        self.reader.start()

    def stop(self) -> None:
        if self.process is None:
            return
        self.process.terminate()
        self.process.wait(timeout=30)
        self.reader.join(timeout=20)
        self.process.stdout.close()
        self.process = None


@dataclass
class Phone:
    """A browser whose profile lies in ``folder``; ``complaints`` are errors of its scripts."""

    kind: BrowserType
    folder: Path
    server: Server
    rules: str = ""
    complaints: list[str] = field(default_factory=list)

    def open(self) -> Page:
        args = [self.rules] if self.rules else []
        if hasattr(os, "geteuid") and os.geteuid() == 0:
            args.append("--no-sandbox")
        self.context: BrowserContext = self.kind.launch_persistent_context(
            self.folder, executable_path=chromium(), args=args, viewport=SCREEN, has_touch=True
        )
        self.context.set_default_timeout(60_000)
        self.page = self.context.pages[0]
        self.page.on("pageerror", lambda error: self.complaints.append(str(error)))
        self.page.on("console", self.hear)
        return self.page

    def hear(self, message) -> None:
        if "Content Security Policy" in message.text:
            self.complaints.append(message.text)

    def kill(self) -> None:
        """End the browser as a phone does that runs out of memory: no page hears of it."""
        mine = f"--user-data-dir={self.folder}"
        for process in psutil.process_iter(["cmdline"]):
            line = process.info["cmdline"] or []
            if mine in line and not any(word.startswith("--type=") for word in line):
                process.kill()
                process.wait(timeout=30)
        with suppress(PlaywrightError):
            self.context.close()  # says that it is closed already

    def go(self, path: str) -> None:
        self.page.goto(self.server.address + path)

    def sign_in(self, seat: str) -> None:
        self.page.locator("[name=username]").fill(seat.replace(" ", "-"))
        self.page.locator("[name=password]").fill(PASSWORDS[seat])
        self.page.locator("main button.main").click()
        self.page.wait_for_url(lambda url: "/sign-in/" not in url)

    @property
    def screen(self):
        return self.page.locator(".screen:visible")

    def answered(self, press) -> None:
        """Do what answers a step, and wait until the next one stands."""
        before = self.page.url
        press()
        self.page.wait_for_url(lambda url: url != before)

    def find(self, condition: str) -> None:
        self.answered(self.screen.locator(f"[name=condition][value='{condition}']").click)

    def first(self) -> dict[int, str]:
        """Press the first, sound condition; ``{position of the step: the condition's key}``."""
        position = int(self.screen.get_attribute("data-step"))
        button = self.screen.locator("[name=condition]").first
        condition = button.get_attribute("value")
        self.answered(button.click)
        return {position: condition}

    @property
    def waiting(self) -> int:
        """Entries in the browser's own database."""
        return self.page.evaluate(
            "import('/static/inspections/outbox.js').then(box => box.all()).then(all => all.length)"
        )

    def reads(self, *words: str) -> None:
        for one in words:
            self.page.get_by_text(one).locator("visible=true").first.wait_for()
