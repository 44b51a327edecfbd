"""Makes the README's pictures: ``python -m tests.tour`` tells the demo for a fixed day, walks
through it seat by seat in a real browser, and writes ``fixtures/tour/*.png``.

``CHROMIUM`` names the browser's path when it is not called ``chromium``.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from tempfile import TemporaryDirectory
from threading import Thread

from PIL import Image
from playwright.sync_api import Browser, Page, sync_playwright

from tests.browser.conftest import WIDTHS, chromium, first_address, launched
from tests.ground import ROOT, RealDatabase, finished
from tests.platemaker import make_photo

PICTURES = ROOT / "fixtures/tour"
NOON = "2026-10-31T12:00:00+00:00"
MOST_BYTES = 120_000
MOST_COLOURS = 64
PLATE, FIRST_READING = 88_000_010, 90_000  # which drawing; milliseconds
PEOPLE = {"front desk": "marit", "technician": "tobin", "owner": "ilse", "accountant": "noor"}

# The story is told for a day, and the pictures show that day: the program's clock stands at its
# noon and runs on from there.
AT_NOON = f"""
import sys, time
from datetime import datetime, timedelta
from django.utils import timezone
noon, started = datetime.fromisoformat({NOON!r}), time.monotonic()
timezone.now = lambda: noon + timedelta(seconds=time.monotonic() - started)
from django.core.management import execute_from_command_line
execute_from_command_line(["manage.py", *sys.argv[1:]])
"""


@dataclass(frozen=True)
class Visitor:
    """Somebody of a seat before a page; goes on by the words of links and buttons."""

    page: Page
    address: str

    def go(self, path: str) -> None:
        self.page.goto(self.address + path, wait_until="networkidle")

    def press(self, words: str, nth: int = 0) -> None:
        main = self.page.locator("main")
        found = main.get_by_role("link", name=words).or_(main.get_by_role("button", name=words))
        found.nth(nth).click()
        self.page.wait_for_load_state("networkidle")

    def fill(self, **values: str) -> None:
        for name, value in values.items():
            self.page.locator(f"main [name={name}]").fill(value)

    def choose(self, name: str, *values: str) -> None:
        for value in values:
            self.page.locator(f"main [name={name}][value='{value}']").check()


@dataclass(frozen=True)
class Picture:
    """One picture: whose page, how wide, how much of its height, and the way there."""

    name: str
    seat: str
    way: Callable[[Visitor], None]
    width: str = "wide"
    height: int = 900


def opening(visitor: Visitor) -> None:
    visitor.go("")


def log_in(visitor: Visitor) -> None:
    visitor.go("jobs/log-in/?who=Abbery")
    visitor.page.locator("main [name=customer]").first.check()
    visitor.fill(maker="Corvane", number="T-310", serial="CO2610-00417")
    visitor.fill(complaint="Slows down after ten minutes, then the breaker goes.")
    visitor.choose("came_along", "safety-key", "cord")
    visitor.fill(spend_limit="50")


def plate(visitor: Visitor) -> None:
    """A drawn plate, read by the reader itself; the computer's first photo takes longest."""
    made = make_photo(seed=PLATE, tier="easy", families="tune")
    visitor.go("plates/")
    upload = {"name": "plate.jpg", "mimeType": "image/jpeg", "buffer": made.jpeg}
    visitor.page.locator("main [name=photo]").set_input_files(upload)
    visitor.press("Read it")
    visitor.page.get_by_text(made.truth.serial).first.wait_for(timeout=FIRST_READING)


def call(visitor: Visitor) -> None:
    visitor.go("calls/")
    visitor.page.locator("main table a").first.click()
    visitor.page.wait_for_load_state("networkidle")


def calls(visitor: Visitor) -> None:
    visitor.go("calls/")


def coverage(visitor: Visitor) -> None:
    visitor.go("models/?text=T-310")
    visitor.press("T-310")
    visitor.press("Component by component")


def answer(visitor: Visitor) -> None:
    visitor.go("")
    visitor.press("Write down the answer")
    visitor.choose("yes", "yes")
    visitor.choose("channel", "phone")


def hand_back(visitor: Visitor) -> None:
    visitor.go("")
    visitor.press("Hand back")


def inspection_step(visitor: Visitor) -> None:
    visitor.go("jobs/?state=logged&text=T-560L")
    visitor.press("J0")
    visitor.press("Inspect")
    visitor.press("All steps")
    visitor.press("Deck where the feet land")


def inspection(visitor: Visitor) -> None:
    visitor.go("jobs/?state=closed&text=OM")
    visitor.press("J0")
    visitor.press("inspected")


def estimate(visitor: Visitor) -> None:
    visitor.go("jobs/?state=in-work")
    visitor.press("J0")


def for_sale(visitor: Visitor) -> None:
    visitor.go("for-sale/")


def not_ready(visitor: Visitor) -> None:
    visitor.go("for-sale/?state=not-ready")
    visitor.press("OM7300")


def bid(visitor: Visitor) -> None:
    visitor.go("valuations/1/")


def model(visitor: Visitor) -> None:
    visitor.go("models/?text=T-310")
    visitor.press("T-310")


def month(visitor: Visitor) -> None:
    visitor.go("periods/2026-10/")
    with visitor.page.expect_download() as waiting:
        visitor.page.get_by_role("button", name="Make the workbook").click()
    waiting.value.path()
    visitor.go("periods/2026-10/")


TOUR = [
    Picture("desk-next", "front desk", opening, height=880),
    Picture("desk-log-in", "front desk", log_in, height=1250),
    Picture("desk-plate", "front desk", plate, "phone", 1150),
    Picture("desk-call", "front desk", call, height=1100),
    Picture("desk-answer", "front desk", answer, "phone", 1150),
    Picture("desk-hand-back", "front desk", hand_back, "phone", 1150),
    Picture("bench-next", "technician", opening, "phone", 1150),
    Picture("bench-step", "technician", inspection_step, "phone", 1150),
    Picture("bench-meaning", "technician", inspection, "phone", 1150),
    Picture("bench-job", "technician", estimate, height=1100),
    Picture("owner-next", "owner", opening),
    Picture("owner-for-sale", "owner", for_sale, height=1100),
    Picture("owner-not-ready", "owner", not_ready, height=1250),
    Picture("owner-model", "owner", model),
    Picture("owner-coverage", "owner", coverage),
    Picture("owner-calls", "owner", calls),
    Picture("owner-bid", "owner", bid, height=1100),
    Picture("office-next", "accountant", opening, height=700),
    Picture("office-month", "accountant", month, height=1100),
]


def main() -> None:
    with TemporaryDirectory(ignore_cleanup_errors=True) as folder:
        database = RealDatabase("sqlite", Path(folder))
        told = finished(database.start("-c", AT_NOON, "demo", "--on", NOON[:10], "--noserve"))
        with database.start("-c", AT_NOON, "serve", "--port", "0") as server:
            try:
                address = first_address(server)
                Thread(target=server.stdout.read, daemon=True).start()
                take_all(address, passwords(told))
            finally:
                server.terminate()


def passwords(told: str) -> dict[str, str]:
    """``{user name: password}`` as the demo prints them."""
    return dict(re.findall(r"^  (\w+) +(\S+)", told, re.MULTILINE))


def take_all(address: str, words: dict[str, str]) -> None:
    PICTURES.mkdir(exist_ok=True)
    with sync_playwright() as playwright:
        browser = launched(playwright, chromium())
        for picture in TOUR:
            take(browser, address, picture, words[PEOPLE[picture.seat]])
        browser.close()


def take(browser: Browser, address: str, picture: Picture, password: str) -> None:
    context = browser.new_context(viewport=WIDTHS[picture.width])
    page = context.new_page()
    page.goto(address + "sign-in/")
    page.locator("[name=username]").fill(PEOPLE[picture.seat])
    page.locator("[name=password]").fill(password)
    page.locator("main button.main").click()
    picture.way(Visitor(page, address))
    page.evaluate("document.activeElement?.blur()")
    keep(page.screenshot(full_page=True), picture)
    context.close()


def keep(taken: bytes, picture: Picture) -> None:
    """Its upper part, in few colours so that it stays small and its words stay sharp."""
    full = Image.open(BytesIO(taken)).convert("RGB")
    upper = full.crop((0, 0, full.width, min(full.height, picture.height)))
    path = PICTURES / f"{picture.name}.png"
    upper.quantize(MOST_COLOURS, dither=Image.Dither.NONE).save(path, optimize=True)
    if path.stat().st_size > MOST_BYTES:
        raise ValueError(f"{path.name} has {path.stat().st_size} bytes, {MOST_BYTES} are allowed.")
    print(f"{path.relative_to(ROOT)}: {upper.width} x {upper.height}, {path.stat().st_size} bytes")


if __name__ == "__main__":
    main()
