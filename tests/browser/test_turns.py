"""Turns that a job takes, each a short walk: a choice, a return under warranty, a machine that
nobody collects, a promised day."""

from datetime import date, timedelta

import pytest

from tests.browser.states import CUSTOMER, PART, day, states
from tests.browser.walking import Walker

JOB = "jobs/J00001/"


@pytest.fixture
def walker(shop, page, axe):
    return Walker(shop, page, axe)


def said(shop, what: str) -> list[str]:
    return shop.database.python(f"from shop.work.models import *\nprint({what})").split()


def test_a_customer_chooses_between_alternatives(shop, walker):
    states(shop, "job_drafted")
    walker.sit("technician")
    offer_two_ways_and_a_price(walker)
    walker.sit("front desk")
    walker.go(JOB)
    walker.press("Write down the answer")
    walker.reads("A: repair", "$45.00", "B: repair and seat", "$65.00", "we pay $25.00")
    walker.choose("yes", "yes")
    walker.choose("channel", "phone")
    walker.press("Write down the answer")
    walker.reads("Say which of the alternatives was chosen")
    walker.page.get_by_label("B: repair and seat").check()
    walker.press("Write down the answer")
    walker.go(f"{JOB}estimate/1/")
    chosen = walker.page.get_by_role("row").filter(has_text="B: repair and seat")
    assert "chosen" in chosen.inner_text()
    assert said(shop, "WorkOrder.objects.get().state, Approval.objects.get().up_to") == [
        "approved",
        "65.00",
    ]


def offer_two_ways_and_a_price(walker: Walker) -> None:
    walker.go(f"{JOB}estimate/1/")
    add_alternative(walker, "repair", "work")
    add_alternative(walker, "repair and seat", "work")
    add_alternative(walker, "we take it", "donor", we_pay="25")
    walker.press("Add a line")
    walker.fill(line_class="labour", description="Fit a used seat", quantity="1", unit_price="20")
    walker.choose("only_in", "B")
    walker.press("Keep the line")
    walker.reads("only in B", "We pay $25.00 for the machine")
    walker.press("Offer this estimate")


def add_alternative(walker: Walker, name: str, sort: str, **more: str) -> None:
    walker.press("Add an alternative")
    walker.fill(name=name, **more)
    walker.choose("sort", sort)
    walker.press("Add it")
    walker.reads(name)


def test_a_repair_that_failed_comes_back_free_but_costed(shop, walker):
    states(shop, "job_handed_back")
    walker.sit("front desk")
    walker.go(JOB)
    walker.press("It came back: our warranty")
    walker.reads("Our warranty on this job runs until", "free for the customer")
    walker.fill(complaint="The cord comes home slowly again.")
    walker.press("Open the job")
    walker.reads("J00002", "Under the warranty of", "J00001")
    put_right_again(walker, walker.here)
    walker.sit("front desk")
    walker.go("jobs/J00002/")
    walker.press("Hand back")
    walker.reads("Nothing to charge")
    walker.fill(taken_by=CUSTOMER)
    walker.press("Hand the machine back")
    walker.reads("handed back")
    walker.go("jobs/warranty/")
    model = walker.page.get_by_role("row").filter(has_text="R-40").inner_text().split()
    # One repair, one return: a cord at 30 and 10 minutes at 30 an hour.
    assert model[-3:] == ["1", "1", "$35.00"], model


def put_right_again(walker: Walker, job: str) -> None:
    """Nobody is asked: the offer is its yes."""
    walker.sit("technician")
    walker.go(job)
    walker.press("Inspect")
    walker.inspect({"Return cord": "weak"})
    walker.go(job)
    walker.press("Make the estimate")
    walker.reads(PART)
    walker.press("Offer this estimate")
    walker.go(job)
    walker.press("Start work")
    walker.press("Take parts")
    walker.press("Take it off the shelf")
    walker.go(job)
    walker.press("Write time")
    walker.fill(minutes="10")
    walker.press("Write the time")
    walker.press("Test it")
    walker.inspect({})
    walker.go(job)
    walker.press("Close the job")
    walker.choose("outcome", "repaired")
    walker.press("Close the job")
    walker.reads("repaired")


def test_a_machine_that_nobody_collects_is_asked_for_and_charged_for(shop, walker):
    states(shop, "job_left_standing")
    walker.sit("owner")
    walker.go("jobs/left-standing/")
    walker.reads(CUSTOMER, "Nobody has asked the customer to collect it", "local law")
    walker.press("Set what storage costs")
    walker.fill(days_free="10", per_day="3", from_on=day(60).isoformat())
    walker.press("Keep the rule")
    walker.sit("front desk")
    walker.go(JOB)
    walker.press("Ask to collect it")
    walker.reads("storage is $3.00 a day")
    walker.page.locator("main [name=how]").first.check()
    walker.fill(given_on=day(30).isoformat())
    walker.press("Write the notice down")
    walker.go("jobs/left-standing/")
    # Asked 30 days ago, ten of them free; the day on which it leaves is free too.
    walker.reads("Storage for 20 days: $60.00")
    walker.go(JOB)
    walker.press("Hand back")
    walker.reads("Storage, by the day")
    walker.fill(taken_by=CUSTOMER)
    walker.press("Hand the machine back")
    walker.press("Invoice R00001")
    walker.reads("Storage, by the day", "$60.00")


def test_a_promised_day_is_kept_on_one_page_with_the_bench(shop, walker):
    states(shop, "job_approved")
    walker.sit("owner")
    walker.go("jobs/workload/")
    walker.press("Set bench hours")
    technician = walker.page.locator("main [name=technician] option").last
    walker.fill(technician=technician.get_attribute("value"), hours="12", from_on=day().isoformat())
    walker.press("Keep the hours")
    walker.reads("12 h")
    walker.sit("front desk")
    promise(walker, "Promise a day", day() + timedelta(days=9))
    promise(walker, "Promise another day", day() + timedelta(days=12))
    walker.reads("reason")
    walker.fill(why="The cord comes later.")
    walker.press("Promise it")
    walker.go("jobs/workload/")
    walker.reads("J00001", "promised for", "No promised day has passed")


def promise(walker: Walker, word: str, on: date) -> None:
    walker.go(JOB)
    walker.press(word)
    walker.fill(promised_on=on.isoformat())
    walker.press("Promise it")
