"""A person who walks through the shop's pages: presses, types, looks, and judges every page."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlsplit

from playwright.sync_api import Error, Page

from tests.browser.conftest import Shop

TRIES = 20  # a waiting page may go on faster than a slow machine judges it


@dataclass
class Walker:
    shop: Shop
    page: Page
    axe: Callable[[Page], None]

    def sit(self, seat: str) -> None:
        self.shop.sign_in(self.page, seat)
        self.look()

    def go(self, path: str) -> None:
        self.page.goto(self.shop.at(path))
        self.look()

    def look(self) -> None:
        """Every page that is reached is accessible and fits the width."""
        for left in reversed(range(TRIES)):
            try:
                return self.judge()
            except Error as error:
                # A page that waits for the worker goes on by itself: judge the one it went to.
                if "context was destroyed" not in error.message or not left:
                    raise

    def judge(self) -> None:
        self.page.wait_for_load_state("networkidle")
        self.axe(self.page)
        wide = self.page.evaluate("document.documentElement.scrollWidth - window.innerWidth")
        assert wide <= 0, f"{self.page.url} is {wide} px wider than the screen"

    def press(self, name: str, within: str = "main") -> None:
        """Press a button or follow a link by its words."""
        place = self.page.locator(within)
        button = place.get_by_role("button", name=name).or_(place.get_by_role("link", name=name))
        button.first.click()
        self.look()

    def fill(self, **values: str) -> None:
        for name, value in values.items():
            field = self.page.locator(f"main [name={name}]")
            if field.first.evaluate("field => field.tagName") == "SELECT":
                field.select_option(value)
            else:
                field.fill(value)

    def choose(self, name: str, *values: str) -> None:
        """Tick boxes or a radio button."""
        for value in values:
            self.page.locator(f"main [name={name}][value='{value}']").check()

    def photo(self, name: str, path: Path) -> None:
        self.page.locator(f"main [name={name}]").set_input_files(path)

    def reads(self, *words: str, within: str = "main") -> None:
        text = self.page.locator(within).inner_text()
        missing = [word for word in words if word.lower() not in text.lower()]
        assert not missing, f"{self.page.url} does not say {missing}:\n{text}"

    @property
    def here(self) -> str:
        return urlsplit(self.page.url).path.removeprefix("/")

    def inspect(self, found: dict[str, str], measured: str = "6.5") -> int:
        """Answer every step by its title: what ``found`` says, else the first, sound answer.

        Gives the number of steps. Every tenth screen is judged; they are all alike.
        """
        steps = 0
        while "#end" not in self.page.url:
            before, screen = self.page.url, self.page.locator(".screen:visible")
            title = screen.locator("h1").inner_text()
            if screen.locator("[name=value]").count():
                screen.locator("[name=value]").fill(found.get(title, measured))
                screen.get_by_role("button", name="Save and go on").click()
            elif title in found:
                screen.locator(f"[name=condition][value='{found[title]}']").click()
            else:
                screen.locator("[name=condition]").first.click()
            self.page.wait_for_url(lambda url, before=before: url != before)
            steps += 1
            if steps % 10 == 1:
                self.look()
        self.page.get_by_role("button", name="Finish the inspection").click()
        self.page.wait_for_url(re.compile(r"/inspections/\d+/$"))
        self.look()
        return steps
