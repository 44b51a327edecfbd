"""A machine of our own on real screens: bought, put right, made ready, sold, gone from the list."""

from datetime import UTC, datetime

import pytest
from PIL import Image

from tests.browser.states import states
from tests.browser.walking import Walker

TODAY = datetime.now(UTC).date().isoformat()
SELLER, BUYER, SERIAL = "Piet Aldous", "Marta Quill", "KR26-00031"
# What the readiness page says of a rower that was just put right, and the page that mends each.
STILL_NEEDED = {
    "Nobody has read the list of recalls": "recall-check/add/",
    "Nobody knows whether its maker still supplies parts": "answers/add/",
    "It is not graded": "grading/",
    "It has no photo for sale": "pictures/add/",
    "It has no asking price": "price/",
    "Its terms and disclosures are not attached": "out/retail/paper/",
}


@pytest.fixture
def walker(shop, page, axe):
    return Walker(shop, page, axe)


@pytest.fixture
def picture(tmp_path):
    path = tmp_path / "rower.jpg"
    Image.new("RGB", (640, 480), "#6b7f86").save(path)
    return path


def test_a_rower_of_our_own_from_the_purchase_to_its_sale(shop, walker, picture):
    states(shop, "rates")
    buy(walker, picture)
    job = put_right(walker)
    readiness = see_what_it_needs(walker, job)
    make_ready(walker, readiness, picture)
    put_it_by_the_door(walker, readiness)
    reserve(walker, readiness)
    sell(walker, readiness)
    assert_sold(shop, walker)


def buy(walker: Walker, picture) -> None:
    walker.sit("owner")
    walker.go("jobs/buy/")
    walker.page.get_by_text("Somebody new").click()
    walker.fill(new_name=SELLER, new_phone="202 555 0117")
    walker.photo("plate_photo", picture)
    walker.fill(maker="Kestrow", number="R-40", serial=SERIAL, kind="rower", price="180")
    walker.press("Take it into our stock")
    walker.reads("The machine is in our own stock", SERIAL, "It is our own")


def put_right(walker: Walker) -> str:
    """Inspected, a dry chain cleaned on the owner's yes, tested and closed; the job's address."""
    walker.sit("technician")
    walker.go("jobs/J00001/")
    job = walker.here
    walker.press("Inspect")
    assert walker.inspect({"Chain or cord": "dry"}) == 13
    walker.go(job)
    walker.press("Make the estimate")
    walker.press("Offer this estimate")
    walker.sit("owner")
    walker.go(job)
    walker.press("Decide")
    walker.choose("yes", "yes")
    walker.press("Write down the answer")
    walker.sit("technician")
    walker.go(job)
    walker.press("Start work")
    walker.press("Write time")
    walker.fill(minutes="15")
    walker.press("Write the time")
    walker.press("Test it")
    assert walker.inspect({}) == 9
    walker.go(job)
    walker.press("Close the job")
    walker.choose("outcome", "repaired")
    walker.press("Close the job")
    walker.reads("repaired")
    return job


def see_what_it_needs(walker: Walker, job: str) -> str:
    """Every unmet point is a sentence and a link; the address of the page that says so."""
    walker.sit("owner")
    walker.go(job)
    walker.press("The machine's page")
    walker.press("See what it needs before it is sold")
    walker.reads("Not ready for sale yet", f"{len(STILL_NEEDED)} things missing")
    points = walker.page.locator(".todo li")
    ways = {point.inner_text(): way_of(point) for point in points.all()}
    assert len(ways) == len(STILL_NEEDED), ways
    for sentence, path in STILL_NEEDED.items():
        assert any(sentence in said and way.endswith(path) for said, way in ways.items()), ways
    return walker.here


def way_of(point) -> str:
    return point.get_by_role("link", name="See to it").get_attribute("href")


def see_to(walker: Walker, readiness: str, sentence: str) -> None:
    walker.go(readiness)
    walker.page.locator(".todo li").filter(has_text=sentence).get_by_role(
        "link", name="See to it"
    ).click()
    walker.look()


def make_ready(walker: Walker, readiness: str, picture) -> None:
    see_to(walker, readiness, "list of recalls")
    walker.choose("outcome", "none")
    walker.fill(source="the agency's public list of recalls")
    walker.press("Record the check")
    see_to(walker, readiness, "still supplies parts")
    walker.choose("status", "supported")
    walker.choose("channel", "phone")
    walker.fill(given_by="parts desk, Odile", given_on=TODAY)
    walker.press("Write it down")
    see_to(walker, readiness, "not graded")
    walker.choose("grade", "B")
    walker.page.locator("main [name=cleaned]").check()
    walker.press("Write it down")
    see_to(walker, readiness, "no photo for sale")
    walker.choose("shows", "sale")
    walker.photo("pictures", picture)
    walker.press("Keep them")
    see_to(walker, readiness, "no asking price")
    walker.fill(price="480", floor="300")
    walker.press("Set the price")
    see_to(walker, readiness, "terms and disclosures")
    walker.reads("No fault stands", "supported", "shop's own warranty")
    walker.fill(note="The seat was changed for a used one.")
    walker.press("Attach it")
    walker.reads("What the buyer is told", SERIAL, "seat was changed", "signature")
    walker.go(readiness)
    walker.reads("Ready for sale", "Every condition of a retail sale is met today", "$480.00")


def put_it_by_the_door(walker: Walker, readiness: str) -> None:
    """The owner names a spot; whoever scans the tag puts the machine there with one tap."""
    walker.go("spots/")
    walker.fill(name="By the door", sort="bay")
    walker.press("Add it")
    walker.sit("technician")
    walker.go(readiness)
    walker.press("Hang tag")
    walker.reads("R-40", SERIAL, "$480.00", "No fault stands")
    walker.go("stands/1/")
    walker.reads("Nobody has written down where it stands")
    walker.press("By the door")
    walker.reads("It stands at By the door", "Where it stood")


def reserve(walker: Walker, readiness: str) -> None:
    walker.sit("front desk")
    walker.go(readiness)
    walker.press("Reserve it")
    walker.page.get_by_text("Somebody new").click()
    walker.fill(new_name=BUYER, new_phone="202 555 0142", amount="80", until_on=TODAY)
    walker.choose("method", "cash")
    walker.press("Take the deposit and reserve it")
    walker.reads("Deposit A00001", BUYER, "$80.00", SERIAL)
    walker.go("for-sale/?state=reserved")
    walker.reads("R-40", f"reserved for {BUYER}")


def sell(walker: Walker, readiness: str) -> None:
    """Whoever left the deposit is chosen already; it is taken off."""
    walker.go(readiness)
    walker.press("Sell it")
    walker.reads(f"It is reserved for {BUYER}: the deposit of $80.00 is taken off")
    walker.fill(method="card")
    walker.press("Sell and make the invoice")
    walker.reads("The machine is sold", "R00001", BUYER, SERIAL, "$480.00", "signature")


def assert_sold(shop, walker: Walker) -> None:
    walker.go("for-sale/")
    walker.reads("No machine of ours fits")
    sold = shop.database.python(
        "from shop.resale.models import Sale\n"
        "sale = Sale.objects.get()\n"
        "stay = sale.stay\n"
        "taken = [f'{one.amount}-{one.method}' for one in sale.invoice.payments.order_by('pk')]\n"
        "print(sale.cost, stay.left, stay.left_document, *taken)\n"
    )
    # 180 paid, and 15 minutes at 30 an hour.
    assert sold.split() == ["187.50", "sold", "R00001", "80.00-deposit", "400.00-card"]
