"""A measuring tool on real screens: from the machine's page to its course over two readings."""

import pytest

from tests.browser.walking import Walker

PAIR = {
    "loaded": "6.4",
    "idle": "2.1",
    "speed": "3",
    "walker": "176",
}


TREADMILL = """
from django.contrib.auth.models import User
from django.utils import timezone
from units.catalogue.models import Kind, MachineModel, Maker, Unit
maker = Maker.objects.create(name="Corvane", key="CORVANE")
words = {"number": "TR-7", "key": "TR7", "kind": Kind.objects.get(slug="treadmill")}
model = MachineModel.objects.create(maker=maker, **words)
seen = {"first_seen_at": timezone.now(), "first_seen_by": User.objects.first()}
Unit.objects.create(model=model, maker=maker, serial="CV1", serial_key="CV1", **seen)
"""


@pytest.fixture
def walker(shop, page, axe):
    shop.database.python(TREADMILL)
    return Walker(shop, page, axe)


def test_a_baseline_is_kept_and_a_later_reading_is_set_beside_it(shop, walker):
    walker.sit("technician")
    walker.go("machines/1/")
    walker.reads("Nothing was measured yet")
    walker.press("Measure something")
    walker.press("Current against the baseline")
    walker.reads("The maker's own service instructions come first", "(mph)")
    walker.fill(loaded="warm", speed="3", walker="176")
    walker.press("Work it out")
    walker.reads("Write a number, such as 11.5.")
    assert walker.page.evaluate("document.activeElement.name") == "loaded"
    walker.fill(**PAIR)
    with walker.page.expect_navigation():
        walker.page.keyboard.press("Enter")
    walker.look()
    walker.reads("6.40 ±", "There is no baseline")
    walker.page.locator("main [name=is_baseline]").check()
    walker.press("Write it to this machine")
    walker.reads("The reading is kept with the machine")
    walker.press("Measure something")
    walker.press("Current against the baseline")
    walker.reads("The baseline is that of")
    walker.fill(loaded="9.8", idle="2.2")
    walker.press("Work it out")
    walker.reads("Belt and deck are worn", "lubricate only as the maker says")
    walker.press("Write it to this machine")
    walker.page.locator("main svg").wait_for()
    walker.look()
    walker.reads("+3.4 A", "baseline")
    kept = shop.database.python(
        "from units.inspections.models import MeasureReading\n"
        "print(*[f'{one.value:.2f}' for one in MeasureReading.objects.all()])\n"
    )
    assert kept.split() == ["6.40", "9.80"]
