"""Machines of our own on real screens, each from its diagnosis to another exit than retail."""

import pytest
from PIL import Image

from tests.browser.states import states
from tests.browser.walking import Walker

FAULT = "Chain or cord: Dry"
LEFT = """
from shop.floor.models import Stay
print(*(f"{stay.pk}={stay.left}" for stay in Stay.objects.order_by("pk")))
"""


@pytest.fixture
def walker(shop, page, axe):
    return Walker(shop, page, axe)


@pytest.fixture
def picture(tmp_path):
    path = tmp_path / "rower.jpg"
    Image.new("RGB", (640, 480), "#6b7f86").save(path)
    return path


def test_each_exit_from_a_diagnosed_machine(shop, walker, picture):
    states(shop, "machines_diagnosed")
    walker.sit("owner")
    walker.go("for-sale/1/")
    walker.reads("Other ways out", "sale as it is", "sale for parts", "scrapped")
    sell_as_it_is(walker, picture)
    sell_for(walker, 2, "for-parts", "sold for its parts only")
    sell_for(walker, 3, "wholesale", "sold to a dealer")
    give_away(walker)
    take_apart(walker)
    scrap(walker)
    assert shop.database.python(LEFT).split() == [
        "1=as-is",
        "2=for-parts",
        "3=wholesale",
        "4=donated",
        "5=stripped",
        "6=scrapped",
    ]


def test_a_recall_keeps_a_machine_from_every_buyer_and_nobody_overrides_it(shop, walker):
    shop.database.python("from tests.browser import supplied\nsupplied.rowers_recalled()\n")
    walker.sit("owner")
    for way in ("retail", "as-is", "for-parts", "wholesale", "donated"):
        refuse(walker, way, "Recall 26201 may mean it, and nobody has decided yet")
        walker.go(f"for-sale/1/out/{way}/let-pass/recall-open/")
        assert walker.here == f"for-sale/1/out/{way}/"
        walker.reads("Nothing is to be let pass here", within="body")
    mend(walker, 1, "retail", "Recall 26201 may mean it")
    walker.press("Decide")
    walker.choose("outcome", "confirmed")
    walker.fill(reason="The plate says R-40.")
    walker.press("Write the decision down")
    refuse(walker, "wholesale", "It may not be sold; nothing overrides this")
    sell_all_the_same(walker)
    out(walker, 1, "scrapped")
    walker.reads("Every condition of this way out is met today")
    assert shop.database.python(LEFT).split()[0] == "1="


def refuse(walker: Walker, way: str, sentence: str) -> None:
    out(walker, 1, way)
    point = walker.page.locator(".todo li").filter(has_text=sentence)
    assert point.count() == 1
    assert point.get_by_role("link", name="Let it pass").count() == 0
    assert walker.page.get_by_role("link", name="Sell it").count() == 0


def sell_all_the_same(walker: Walker) -> None:
    """Whoever types the address of the sale is refused with the same words."""
    walker.go("for-sale/1/out/wholesale/sell/")
    walker.page.get_by_text("Somebody new").click()
    walker.fill(new_name="Buyer 1", new_phone="202 555 0131", price="60", method="cash")
    walker.press("Sell and make the invoice")
    walker.reads("It may not be sold; nothing overrides this")


def out(walker: Walker, pk: int, way: str) -> str:
    address = f"for-sale/{pk}/out/{way}/"
    walker.go(address)
    return address


def mend(walker: Walker, pk: int, way: str, sentence: str, word: str = "See to it") -> None:
    out(walker, pk, way)
    point = walker.page.locator(".todo li").filter(has_text=sentence)
    point.get_by_role("link", name=word).click()
    walker.look()


def let_pass(walker: Walker, pk: int, way: str, sentence: str) -> None:
    mend(walker, pk, way, sentence, "Let it pass")
    walker.press("Let it pass, for this reason")
    walker.reads("required")
    walker.fill(reason="Nobody can read the sticker.")
    walker.press("Let it pass, for this reason")
    walker.reads("your reason is written down")


def read_recalls(walker: Walker, pk: int, way: str) -> None:
    mend(walker, pk, way, "list of recalls")
    walker.choose("outcome", "none")
    walker.fill(source="the agency's public list of recalls")
    walker.press("Record the check")


def grade(walker: Walker, pk: int, way: str) -> None:
    mend(walker, pk, way, "not graded")
    walker.choose("grade", "C")
    walker.fill(made_in="1907")
    walker.press("Write it down")
    walker.reads("was made between 1960 and")
    walker.fill(made_in="2019")
    walker.press("Write it down")


def attach(walker: Walker, pk: int, way: str, *terms: str) -> None:
    mend(walker, pk, way, "terms and disclosures")
    walker.reads(FAULT, *terms)
    walker.press("Attach it")
    walker.reads("What the buyer is told", FAULT, *terms)


def pay(walker: Walker, pk: int, way: str, price: str) -> None:
    out(walker, pk, way)
    walker.reads("Every condition of this way out is met today")
    walker.press("Sell it")
    walker.page.get_by_text("Somebody new").click()
    walker.fill(new_name=f"Buyer {pk}", new_phone=f"202 555 013{pk}", price=price, method="cash")
    walker.press("Sell and make the invoice")
    walker.reads("The machine is sold", f"${price}.00")


def sell_as_it_is(walker: Walker, picture) -> None:
    way = "as-is"
    read_recalls(walker, 1, way)
    mend(walker, 1, way, "serial plate is not confirmed")
    walker.photo("photo", picture)
    walker.fill(maker="Kestrow", number="R-40", serial="KR26-00101")
    walker.page.locator("main form button.main").first.click()
    walker.look()
    grade(walker, 1, way)
    mend(walker, 1, way, "no asking price")
    walker.reads("What speaks for a price", "$90.00")
    walker.fill(price="150", floor="120")
    walker.press("Set the price")
    let_pass(walker, 1, way, "no photo for sale")
    attach(walker, 1, way, "sold as it is, with the faults written above")
    pay(walker, 1, way, "140")


def sell_for(walker: Walker, pk: int, way: str, term: str) -> None:
    read_recalls(walker, pk, way)
    let_pass(walker, pk, way, "serial plate is not confirmed")
    attach(walker, pk, way, term)
    pay(walker, pk, way, "60")


def give_away(walker: Walker) -> None:
    way = "donated"
    read_recalls(walker, 4, way)
    let_pass(walker, 4, way, "serial plate is not confirmed")
    grade(walker, 4, way)
    attach(walker, 4, way, "given away with the faults")
    out(walker, 4, way)
    walker.press("Let it go")
    walker.fill(taker="Aldermere youth club", reason="They asked for one.")
    walker.press("It has left us")
    walker.reads("donated: G00001", "Aldermere youth club", FAULT)


def take_apart(walker: Walker) -> None:
    out(walker, 5, "stripped")
    walker.reads("Every condition of this way out is met today", "hold a charge")
    walker.press("Take it apart for its pieces")
    walker.fill(**{"return-cord-fate": "leave", "return-cord-grade": "good"})
    walker.press("Write the strip list down")
    walker.reads("The machine is taken apart")


def scrap(walker: Walker) -> None:
    out(walker, 6, "scrapped")
    walker.reads("cut the cord")
    walker.press("Let it go")
    walker.press("It has left us")
    walker.reads("required")
    walker.fill(taker="Aldermere scrap yard", reason="The frame is bent.")
    walker.press("It has left us")
    walker.reads("scrapped: G00002")
