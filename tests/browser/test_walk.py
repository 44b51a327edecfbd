"""One machine's whole life on real screens: from the counter to the accountant's workbook."""

import re
from datetime import UTC, datetime
from decimal import Decimal
from io import BytesIO

import pytest
from openpyxl import load_workbook
from PIL import Image

from tests.browser.walking import Walker

TODAY = datetime.now(UTC).date()
LAST_YEAR = f"{TODAY.year - 1}-01-01"


@pytest.fixture
def walker(shop, page, axe):
    return Walker(shop, page, axe)


@pytest.fixture
def plate(tmp_path):
    path = tmp_path / "plate.jpg"
    Image.new("RGB", (640, 480), "#c9cdcb").save(path)
    return path


def open_for_business(walker: Walker) -> None:
    """The owner's first morning: name, tax, the hour, the mark-up."""
    walker.sit("owner")
    walker.go("shop/")
    walker.fill(name="Quarry Street Fitness Repair", phone="202 555 0198")
    walker.press("Save")
    walker.go("rates/tax/add/")
    walker.fill(jurisdiction="State", percent="6.875", from_on=LAST_YEAR)
    walker.choose("line_classes", "part", "machine")
    walker.press("Save")
    walker.go("rates/labour/add/")
    walker.fill(price_per_hour="80", cost_per_hour="30", from_on=LAST_YEAR)
    walker.press("Save")
    walker.go("rates/mark-up/add/")
    walker.fill(cost_from="0", factor="1.5", from_on=LAST_YEAR)
    walker.press("Save")


def stock_the_shelf(walker: Walker) -> None:
    """A delivery of two parts that nobody here knew, put on the shelf."""
    walker.sit("technician")
    walker.go("receipts/add/")
    walker.fill(supplier="Corvane parts desk", reference="4711")
    parts = (("CO-2001", "running belt", "running-belt"), ("CO-2002", "deck", "deck"))
    for row, (number, name, component) in enumerate(parts):
        line = f"lines-{row}"
        walker.fill(
            **{f"{line}-number": number, f"{line}-bin": "A1", f"{line}-quantity": "2"},
            **{f"{line}-unit_cost": str(60 + 30 * row)},
        )
        walker.page.locator("summary").nth(row + summary_offset(walker)).click()
        walker.fill(
            **{f"{line}-name": name, f"{line}-component": component, f"{line}-maker": "Corvane"}
        )
    walker.press("Put it on the shelf")
    walker.reads("CO-2001", "CO-2002")


def summary_offset(walker: Walker) -> int:
    """On a phone the rooms of the shell stand behind a summary of their own."""
    return walker.page.locator("header summary, nav summary").count()


def fit_the_parts(walker: Walker) -> None:
    for number in ("CO-2001", "CO-2002"):
        walker.go(f"parts/?text={number}")
        walker.press(number)
        walker.press("Add a model it fits")
        model = walker.page.locator("main [name=model] option").filter(has_text="T-310")
        walker.fill(model=model.get_attribute("value"), quantity="1", evidence="maker's parts list")
        walker.press("Write it down")


def test_a_customer_s_treadmill_from_the_counter_to_the_workbook(walker, plate, tmp_path):
    open_for_business(walker)
    stock_the_shelf(walker)

    # Front desk: log it in.
    walker.sit("front desk")
    walker.press("Log in a machine", within="body")
    walker.page.get_by_text("Somebody new").click()
    walker.fill(new_name="Ines Okafell", new_phone="202 555 0104")
    walker.photo("plate_photo", plate)
    walker.fill(maker="Corvane", number="T-310", serial="CV26-00417", kind="treadmill")
    walker.fill(complaint="Slows down after ten minutes, then the breaker goes.")
    walker.choose("came_along", "safety-key", "cord")
    walker.fill(spend_limit="50", arrival_note="Scuffed at the rear.")
    walker.press("Log it in")
    walker.reads("J00001", "Ines Okafell", "CV26-00417")
    job = walker.here
    walker.press("Claim ticket")
    walker.reads("Claim ticket J00001", "Ines Okafell")

    # What the maker says of its parts.
    walker.go("models/")
    walker.press("T-310")
    walker.press("Write down what the maker says")
    walker.choose("status", "supported")
    walker.choose("channel", "phone")
    walker.fill(given_by="parts desk, Odile", given_on=TODAY.isoformat())
    walker.press("Write it down")
    walker.reads("supported", "Odile", "today")

    # Technician: fits, inspection, estimate.
    walker.sit("technician")
    fit_the_parts(walker)
    walker.go(job)
    walker.press("Inspect")
    worn = {
        "Deck where the feet land": "grooved",
        "Belt underside": "glazed",
        "Current under load": "15.4",
    }
    steps = walker.inspect(worn)
    assert steps == 30
    walker.reads("belt and deck")
    walker.go(job)
    walker.press("Make the estimate")
    walker.reads("CO-2001", "CO-2002", "worn where the feet land")
    walker.press("Offer this estimate")

    # Front desk: the yes.
    walker.sit("front desk")
    walker.go(job)
    walker.press("Write down the answer")
    walker.choose("yes", "yes")
    walker.choose("channel", "phone")
    walker.fill(given_by="Ines Okafell")
    walker.press("Write down the answer")
    walker.reads("yes", "Ines Okafell")

    # Technician: parts, time, final test, closing refused, then closed.
    walker.sit("technician")
    walker.go(job)
    walker.press("Start work")
    walker.press("Close the job")
    walker.reads("No time is written", "No final test was made", "Not taken from the shelf")
    for _ in range(2):
        walker.go(job)
        walker.press("Take parts")
        walker.press("Take it off the shelf")
    walker.go(job)
    walker.press("Write time")
    walker.fill(minutes="95")
    walker.press("Write the time")
    walker.go(job)
    walker.press("Test it")
    walker.inspect({}, measured="2.5")
    walker.go(job)
    walker.press("Close the job")
    walker.choose("outcome", "repaired")
    walker.choose("safety_key", "here")
    walker.press("Close the job")
    walker.reads("repaired")

    # Front desk: hand back, invoice, payment.
    walker.sit("front desk")
    walker.go(job)
    walker.press("Hand back")
    walker.fill(taken_by="Ines Okafell")
    walker.choose("returned", "safety-key", "cord")
    walker.choose("method", "card")
    walker.press("Hand the machine back")
    walker.reads("handed back")
    walker.press("Invoice R00001")
    walker.reads("Quarry Street Fitness Repair", "6.875", "signature")

    # Owner and accountant: the page of the day and the book of the month.
    walker.sit("owner")
    walker.sit("accountant")
    walker.go("periods/")
    month = TODAY.strftime("%Y-%m")
    walker.go(f"periods/{month}/")
    walker.reads("6.875", "$15.47")
    with walker.page.expect_download() as waiting:
        walker.page.get_by_role("button", name="Make the workbook").click()
    book = load_workbook(BytesIO(waiting.value.path().read_bytes()))
    assert_ties(book)
    walker.go(f"periods/{month}/")
    walker.reads("Debits of the journal = credits of the journal")


def assert_ties(book) -> None:
    journal = book["Journal"]
    rows = list(journal.iter_rows(values_only=True))
    head = next(i for i, row in enumerate(rows) if "debit" in [str(cell) for cell in row])
    names = [str(cell) for cell in rows[head]]
    debit, credit = names.index("debit"), names.index("credit")
    lines = [row for row in rows[head + 1 :] if row[0] and re.match(r"\d", str(row[0]))]
    debits = sum(Decimal(str(row[debit] or 0)) for row in lines)
    credits_ = sum(Decimal(str(row[credit] or 0)) for row in lines)
    assert debits == credits_ > 0
