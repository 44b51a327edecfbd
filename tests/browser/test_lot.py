"""A club's list in a bad layout becomes a confirmed lot, by the real server and the real worker."""

import re
from threading import Thread

import pytest
from django.conf import settings
from playwright.sync_api import expect

from tests.browser.conftest import Shop, first_address
from tests.browser.walking import Walker

LIST = settings.BASE_DIR / "fixtures" / "demo" / "millrace.xlsx"
MOST_ACTIONS = 15
READ_WITHIN = 60_000  # milliseconds: other tests run beside this one
KNOWN = "from shop.front.demo import world\nworld.add_models()\n"


@pytest.fixture
def shop(browser, peopled, tmp_path):
    database = peopled(tmp_path / "home")
    database.python(KNOWN)
    with database.start("manage.py", "serve", "--port", "0") as server:
        served = Shop(database, first_address(server))
        reader = Thread(target=served.said.extend, args=(server.stdout,))
        reader.start()
        yield served
        server.terminate()
        reader.join(timeout=20)
    assert "Traceback" not in "".join(served.said)


class Counting(Walker):
    """A person whose every press, entry and choice is counted."""

    actions = 0

    def press(self, name: str, within: str = "main") -> None:
        self.actions += 1
        super().press(name, within)

    def enter(self, label: str, text: str) -> None:
        self.actions += 1
        self.page.get_by_label(label).first.fill(text)

    def pick(self, label: str, option: str) -> None:
        self.actions += 1
        self.page.get_by_label(label).first.select_option(option)

    def photo(self, name: str, path) -> None:
        self.actions += 1
        super().photo(name, path)


@pytest.fixture
def walker(shop, page, axe):
    return Counting(shop, page, axe)


def test_46_rows_in_a_bad_layout_are_a_confirmed_lot_in_15_actions(walker):
    walker.sit("owner")
    walker.go("lots/")
    walker.press("Write down a lot")
    walker.enter("Seller", "Millrace Athletic")
    walker.photo("file", LIST)
    walker.press("Keep it")
    main = walker.page.locator("main")
    expect(main).to_contain_text("Confirm all 46 sure lines", timeout=READ_WITHIN)
    walker.look()
    walker.reads("3 lines to decide", "2 questions", "“a few” says no count")
    walker.press("Confirm all 46 sure lines")
    walker.press("Confirm these as chosen")
    walker.enter("How many", "1")
    walker.pick("It is", "year")
    walker.press("Take these answers")
    walker.reads("51 lines are confirmed and none waits")
    walker.press("The list is right")
    walker.page.wait_for_url(re.compile(r"/lots/\d+/$"))
    walker.reads("list confirmed", "Holmgate HG 7250", "weight plates", "1,240")
    assert walker.actions <= MOST_ACTIONS, walker.actions
    counted = walker.shop.database.python(
        "from shop.lots.models import LotLine, LotMachine\n"
        "print(LotMachine.objects.count(), LotLine.objects.filter(sort='goods').count())"
    )
    assert counted.split() == ["46", "5"]


@pytest.mark.one_width
def test_the_list_is_confirmed_and_a_machine_looked_at_by_keyboard_alone(walker):
    walker.sit("owner")
    walker.go("lots/add/")
    walker.enter("Seller", "Ada Marsh")
    walker.enter("Or paste it", "Holmgate HG 7100 treadmill\n2 Kestrow KR 8 rowers")
    keys = walker.page.keyboard
    walker.page.get_by_role("button", name="Keep it").focus()
    keys.press("Enter")
    sure = walker.page.get_by_role("button", name="Confirm all 2 sure lines")
    expect(sure).to_be_visible(timeout=READ_WITHIN)
    sure.focus()
    keys.press("Enter")
    right = walker.page.get_by_role("button", name="The list is right")
    expect(right).to_be_visible()
    right.focus()
    keys.press("Enter")
    walker.page.wait_for_url(re.compile(r"/lots/\d+/$"))
    walker.press("Walk the floor")
    walker.reads("3 machines were not looked at yet")
    walker.press("Holmgate HG 7100")
    walker.page.get_by_label("does not run").focus()
    keys.press("Space")
    walker.enter("Why not", "no power on site")
    walker.page.get_by_role("button", name="Keep what was found").focus()
    keys.press("Enter")
    walker.page.wait_for_url(re.compile(r"/walk/$"))
    walker.look()
    walker.reads("does not run", "no power on site", "2 machines were not looked at yet")
