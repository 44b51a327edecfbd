"""A club's lot is valued on screen, by the real server and the real worker."""

import re
from threading import Thread

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Shop, first_address
from tests.browser.walking import Walker

RECKONED_WITHIN = 90_000  # milliseconds: other tests run beside this one
CLUB = """
from uuid import UUID
from django.core.files.base import ContentFile
from django.utils import timezone
from shop.front.demo import world
from shop.front.demo.clublist import NAME, draw_list
from shop.lots.services import Offered, add_source, confirm_sure, open_lot
from shop.lots.services.sources import begin_reading
from shop.lots.services.tasks import read_now
from shop.people.services import save_customer
from tests.browser.states import person

world.add_models()
at, owner = timezone.now(), person("owner")
seller = save_customer(
    name="Millrace Athletic", sort="company", phone="", email="", note="", known_since=at.date()
)
offered = Offered(title="The whole floor", offered_on=at.date(), kilometres=18, steps=12)
lot = open_lot(seller=seller, offered=offered, key=UUID(int=7), by=owner, at=at)
source = add_source(lot=lot, upload=ContentFile(draw_list(), name=NAME), by=owner, at=at)
read_now(begin_reading(pk=source.pk, at=at), at=at)
confirm_sure(lot=lot, by=owner, at=at)
"""


@pytest.fixture
def shop(browser, peopled, tmp_path):
    database = peopled(tmp_path / "home")
    database.python(CLUB)
    with database.start("manage.py", "serve", "--port", "0") as server:
        served = Shop(database, first_address(server))
        reader = Thread(target=served.said.extend, args=(server.stdout,))
        reader.start()
        yield served
        server.terminate()
        reader.join(timeout=20)
    assert "Traceback" not in "".join(served.said)


@pytest.fixture
def walker(shop, page, axe):
    return Walker(shop, page, axe)


def test_the_owner_has_a_lot_valued_and_takes_the_bid_along(walker):
    walker.sit("owner")
    walker.go("lots/")
    walker.press("The whole floor")
    walker.press("What is it worth to us?")
    walker.look()
    walker.page.get_by_label("What the seller asks for everything").fill("9000")
    walker.press("Value this lot")
    main = walker.page.locator("main")
    expect(main).to_contain_text("Most to pay", timeout=RECKONED_WITHIN)
    walker.reads("All odds are still stated ones", "Calls and looks first", "shop default")
    for summary in walker.page.locator("details:not([open]) > summary").all():
        if summary.is_visible():
            summary.click()
    walker.look()
    expect(walker.page.locator("svg[role=img]")).to_have_count(4)
    with walker.page.expect_download() as kept:
        walker.press("Take it along on paper")
    assert re.fullmatch(r"bid-\d+-\d+\.pdf", kept.value.suggested_filename)
