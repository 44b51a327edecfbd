"""Two people press the same button: one effect, and an explanation for the second."""

import pytest

from tests.browser.conftest import PATIENCE, WIDTHS
from tests.browser.states import states

pytestmark = pytest.mark.one_width


@pytest.fixture
def other(browser):
    context = browser.new_context(viewport=WIDTHS["wide"])
    context.set_default_timeout(PATIENCE)
    yield context.new_page()
    context.close()


def counted(shop, what: str) -> str:
    code = f"from shop.work.models import *\nprint({what})"
    return shop.database.python(code).strip()


def test_two_close_one_job(shop, page, other, axe):
    states(shop, "job_to_close")
    for one, seat in ((page, "technician"), (other, "owner")):
        shop.sign_in(one, seat)
        one.goto(shop.at("jobs/J00001/close/"))
        one.locator("[name=outcome][value=repaired]").check()
    page.locator("main button.main").click()
    page.wait_for_url("**/jobs/J00001/")
    other.locator("main button.main").click()
    other.wait_for_url("**/jobs/J00001/")
    said = other.locator("body").inner_text()
    assert "is closed: technician" in said
    assert "Nothing was changed now" in said
    axe(other)
    assert counted(shop, "Step.objects.filter(to_state='closed').count()") == "1"


def test_two_start_one_clock(shop, page, other):
    """The same technician on the bench's tablet and on his telephone."""
    states(shop, "job_in_work")
    for one in (page, other):
        shop.sign_in(one, "technician")
        one.goto(shop.at("jobs/J00001/"))
    for one in (page, other):
        one.get_by_role("button", name="Start my clock").click()
        one.get_by_role("button", name="Stop the clock").wait_for()
    assert counted(shop, "Clock.objects.count()") == "1"
    page.get_by_role("button", name="Stop the clock").click()
    page.get_by_text("The clock wrote").wait_for()
    other.get_by_role("button", name="Stop the clock").click()
    other.get_by_text("This clock was stopped").wait_for()
    assert counted(shop, "TimeEntry.objects.count()") == "1"
