"""A club's lot is valued on screen, by the real server and the real worker."""

import re
from datetime import UTC, datetime
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
ONE_MACHINE = """
from uuid import UUID
from django.core.files.base import ContentFile
from django.utils import timezone
from shop.lots.services import Offered, add_source, confirm_sure, open_lot
from shop.lots.services.sources import begin_reading
from shop.lots.services.tasks import read_now
from shop.people.models import Customer
from tests.browser.states import person

at, owner = timezone.now(), person("owner")
lot = open_lot(
    seller=Customer.objects.get(), offered=Offered(title="One climber", offered_on=at.date()),
    key=UUID(int=8), by=owner, at=at,
)
listed = ContentFile(b"model,count\\nOstramill OM8000,1\\n", name="one.csv")
source = add_source(lot=lot, upload=listed, by=owner, at=at)
read_now(begin_reading(pk=source.pk, at=at), at=at)
confirm_sure(lot=lot, by=owner, at=at)
assert lot.pk == 2
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


@pytest.mark.one_width
def test_an_answer_is_written_down_the_lot_valued_anew_and_an_old_bid_reckoned_again(walker):
    """A single machine asked for at its break-even: there a call may change what is done."""
    walker.shop.database.python(ONE_MACHINE)
    walker.sit("owner")
    value(walker, "500")
    value(walker, price_of(walker, "Break-even"))
    first, even = walker.here, price_of(walker, "Break-even")
    call = walker.page.locator("main td a", has_text="Call ").first
    asked = call.inner_text()
    walker.press(asked)
    walker.choose("status", "ended")
    walker.fill(given_by="the parts desk", given_on=f"{datetime.now(UTC):%Y-%m-%d}")
    walker.press("Write it down")
    value(walker, "")
    walker.reads(f"break-even ${even}, since changed by")
    assert price_of(walker, "Break-even") != even
    assert walker.page.locator("main td a", has_text=asked).count() == 0
    walker.go(first)
    walker.press("Reckon it again")
    main = walker.page.locator("main")
    expect(main).to_contain_text("every figure came out as before", timeout=RECKONED_WITHIN)
    walker.look()


def value(walker, asked):
    """Value the lot at a price (empty: at the one asked for before) until its bid stands there."""
    walker.go("lots/2/worth/")
    if asked:
        walker.page.get_by_label("What the seller asks for everything").fill(asked.replace(",", ""))
    walker.press("Value this lot")
    expect(walker.page.locator("main")).to_contain_text("Most to pay", timeout=RECKONED_WITHIN)
    walker.look()


def price_of(walker, name):
    """One of the prices of the bid that is shown, without the sign of its currency."""
    text = walker.page.locator("dl.facts dt", has_text=name).locator("+ dd").inner_text()
    return re.search(r"[\d,.]+", text).group()
