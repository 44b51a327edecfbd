"""Whether parts can be had, on real screens: asking, lists, orders, exchanges, donors, recalls."""

import json

import pytest

from tests.browser import supplied
from tests.browser.walking import Walker

MAKE = "from tests.browser import supplied\nsupplied.make()\n"


@pytest.fixture
def walker(shop, page, axe):
    return Walker(shop, page, axe)


@pytest.fixture
def ways(shop) -> dict[str, str]:
    """The addresses of a shop that asked, ordered, exchanged and took apart."""
    return json.loads(shop.database.python(MAKE).splitlines()[-1])


def test_every_page_of_what_can_be_had_is_accessible_and_fits_the_screen(walker, ways):
    walker.sit("owner")
    for address in ways.values():
        walker.go(address)
    walker.go(ways["part"])
    walker.reads("can be had", "expected on", "The number was read out wrong.", "CO-2001A")
    walker.go(ways["machine"])
    walker.reads("Of what wears", "not decided")
    walker.go(f"find/?q={supplied.DONOR[:6]}")
    walker.reads("See what it gave")


@pytest.mark.one_width
def test_a_call_is_made_and_what_they_said_stands_on_the_models_page(walker, ways):
    walker.sit("front desk")
    walker.go(ways["call-list"])
    walker.press("Corvane T-310")
    walker.reads("CO26-00511", "Ask about each of these", "This is the last of the list")
    walker.choose("status", "supported")
    walker.choose("channel", "phone")
    walker.fill(given_by="parts desk, Bram")
    walker.press("Write it down and ask more about this model")
    walker.reads("parts desk, Bram", "today")
    walker.go(ways["model-parts"])
    walker.reads("Everything that wears can be had")


@pytest.mark.one_width
def test_a_list_is_loaded_and_its_price_is_a_way_to_the_part(walker, ways, tmp_path):
    path = tmp_path / "spares.csv"
    path.write_text(supplied.LIST)
    walker.sit("front desk")
    walker.go(ways["supplier-list-add"])
    walker.fill(supplier="Northgate Spares")
    walker.photo("file", path)
    walker.press("Look at it")
    walker.reads("2 rows read well", "D4", "ask us")
    walker.press("Load the good rows only")
    walker.go(ways["part"])
    walker.reads("Northgate Spares", "$61.50")


@pytest.mark.one_width
def test_the_rest_of_an_order_comes_and_a_wrong_piece_goes_back(walker, ways):
    walker.sit("technician")
    walker.go(ways["order"])
    walker.press("Take in what came")
    quantity = walker.page.locator("main [name$=quantity]").first
    quantity.fill("9")
    walker.page.locator("main [name$=bin]").first.fill("A1")
    walker.press("Put it on the shelf")
    walker.reads("are still to come")
    quantity.fill("3")
    walker.press("Put it on the shelf")
    walker.reads("Delivery D00002", "$184.50")
    walker.press("Send back CO-2001")
    walker.fill(quantity="1", note="belt of the T-420 in the box")
    walker.choose("reason", "wrong")
    walker.press("Send it back")
    walker.reads("belt of the T-420 in the box")


@pytest.mark.one_width
def test_a_recall_is_decided_with_a_reason_and_holds_the_machine(walker, ways):
    walker.sit("technician")
    walker.go(ways["recall-match-list"])
    walker.reads("CO26-00511", "not decided")
    walker.go(ways["recall-decide"])
    walker.reads("15 U.S.C. 2068", "check the current list")
    walker.choose("outcome", "confirmed")
    walker.fill(reason="Serial held against the notice at the machine.")
    walker.press("Write the decision down")
    walker.go(ways["machine"])
    walker.reads("recalled")
